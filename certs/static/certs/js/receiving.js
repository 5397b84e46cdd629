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

  const form = () => document.getElementById("receipt");
  const isReceipt = (event) => event.target.id === "receipt";
  const isAsking = (event) => event.target.classList?.contains("receipt-columns");
  const say = (text, link = "", after = "") => {
    const place = document.getElementById("unsent");
    place.textContent = text;
    place.hidden = text === "";
    if (!link) return;
    const way = document.createElement("a");
    way.href = form().dataset.signIn;
    way.target = "_blank";
    way.rel = "noopener";
    way.textContent = link;
    place.append(" ", way, after);
  };
  const saySignedOut = () => say(
    "You are no longer signed in: nothing was received, and what you typed stands here.",
    "Sign in in another tab", ", then press “Receive this reel” here again.",
  );
  const isSignIn = (url) => new URL(url, location.href).pathname === form().dataset.signIn;

  // Whoever signed in again has a new token, which this page does not know yet.
  let isRenewed = false;
  async function renew() {
    const answer = await fetch(location.pathname, { cache: "no-store" });
    if (isSignIn(answer.url)) return saySignedOut();
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const token = page.querySelector("#receipt [name=csrfmiddlewaretoken]");
    if (!answer.ok || !token) return say("Whoever is signed in now may not receive reels. What you typed stands here.");
    form().querySelector("[name=csrfmiddlewaretoken]").value = token.value;
    form().requestSubmit(form().querySelector(".receipt-foot button:not([name])"));
  }

  document.addEventListener("htmx:beforeRequest", (event) => isReceipt(event) && say(""));
  document.addEventListener("htmx:responseError", (event) => {
    if (!isReceipt(event)) return;
    const status = event.detail.xhr.status;
    if (status === 403 && !isRenewed) {
      isRenewed = true;
      renew().catch(() => say("The record cannot be reached. Nothing was received; what you typed stands here. Try again."));
    } else say(`Nothing was received (answer ${status}); what you typed stands here. Try again in a minute.`);
  });
  document.addEventListener("htmx:beforeSwap", (event) => {
    const answer = event.detail.xhr;
    if (!isReceipt(event) && !isAsking(event)) return;
    if (answer.status === 200 && isSignIn(answer.responseURL)) {
      event.detail.shouldSwap = false;
      saySignedOut();
    } else if (isReceipt(event) && answer.status === 200) isRenewed = false;
  });

  // Without a connection the findings stand as they were; when it is back they are asked for anew.
  document.addEventListener("htmx:sendError", (event) => {
    if (!isAsking(event)) return;
    document.getElementById("receiving-summary").textContent =
      "No connection: what is said beside the fields was found before it was lost. Type on; it is looked at again when the connection is back.";
  });
  addEventListener("online", () => document.querySelector(".receipt-columns").dispatchEvent(new Event("change")));
})();
