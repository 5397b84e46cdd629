// Receiving a reel: takes a mill document dropped anywhere on the page into its field, and says so
// when the form could not be sent. Everything typed stays where it is.
(() => {
  const zone = () => document.getElementById("document-zone");
  const carriesFile = (event) => event.dataTransfer && [...event.dataTransfer.types].includes("Files");

  document.addEventListener("dragover", (event) => {
    if (!carriesFile(event)) return;
    event.preventDefault(); // or the browser would leave the page to show the file
    zone().classList.add("over");
  });
  document.addEventListener("dragleave", (event) => {
    if (event.relatedTarget === null) zone().classList.remove("over");
  });
  document.addEventListener("drop", (event) => {
    if (!carriesFile(event)) return;
    event.preventDefault();
    zone().classList.remove("over");
    const field = zone().querySelector("input[type=file]");
    const one = new DataTransfer();
    if (event.dataTransfer.files.length) one.items.add(event.dataTransfer.files[0]);
    field.files = one.files;
    field.focus();
  });

  const isReceipt = (event) => event.target.id === "receipt";
  const say = (text) => {
    const place = document.getElementById("unsent");
    place.textContent = text;
    place.hidden = text === "";
  };
  document.addEventListener("htmx:beforeRequest", (event) => isReceipt(event) && say(""));
  document.addEventListener("htmx:sendError", (event) => {
    if (isReceipt(event)) say("The record cannot be reached. Nothing was received; what you typed stands here. Try again.");
  });
  document.addEventListener("htmx:responseError", (event) => {
    const status = event.detail.xhr.status;
    if (isReceipt(event)) say(`Nothing was received (answer ${status}); what you typed stands here. Try again in a minute.`);
  });
  document.addEventListener("htmx:beforeSwap", (event) => {
    const answer = event.detail.xhr;
    if (!isReceipt(event) || answer.status !== 200 || answer.responseText.includes('id="receipt"')) return;
    event.detail.shouldSwap = false; // another page, as when the time to sign in again has come
    say("You are no longer signed in. Sign in in another window, then send this again.");
  });
})();
