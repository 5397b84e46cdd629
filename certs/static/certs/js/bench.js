/* Prints labels from the cutting bench without leaving it: the PDF comes into a small frame of the
   page, which then opens the print dialogue. Without it a label opens in a page of its own. */
"use strict";
(() => {
  const form = document.getElementById("labels");
  const frame = document.getElementById("label-frame");
  const says = document.getElementById("label-says");
  const atOnce = document.getElementById("at-once");
  if (!form || !frame) return;
  const KEY = "labels-at-once";
  let asked = "";

  const kept = () => { try { return localStorage.getItem(KEY) === "yes"; } catch (refused) { return false; } };
  const keep = (yes) => { try { localStorage.setItem(KEY, yes ? "yes" : "no"); } catch (refused) { /* asked again the next time */ } };

  function back() {
    const field = document.querySelector(".big-field input");
    if (field) field.focus();
  }

  function printed() {
    if (!asked) return;
    const inside = frame.contentDocument;
    const refused = inside && inside.querySelector("[data-refused]");
    if (refused) {
      says.textContent = refused.textContent;
    } else {
      try {
        frame.contentWindow.focus();
        frame.contentWindow.print();
        says.textContent = `The label of ${asked} is ready to print.`;
      } catch (problem) {
        // Some browsers print no PDF within a page: from now on it opens in one of its own.
        form.target = "_blank";
        says.textContent = `This browser prints no label from here. Press the label of ${asked} again: it opens by itself.`;
      }
    }
    asked = "";
    back();
  }

  form.target = frame.name;
  frame.addEventListener("load", printed);
  form.addEventListener("submit", (event) => {
    asked = event.submitter ? event.submitter.value : form.dataset.cut;
    says.textContent = `The label of ${asked} is made.`;
  });
  atOnce.disabled = false;
  atOnce.checked = kept();
  // The hand that ticks the box goes on with a length; one that walks by keyboard stays on the box.
  let isTouched = false;
  atOnce.closest("label").addEventListener("pointerdown", () => { isTouched = true; });
  atOnce.addEventListener("change", () => {
    keep(atOnce.checked);
    if (isTouched) back();
    isTouched = false;
  });
  if (form.dataset.cut) {
    const button = form.querySelector('button[name="things"]');
    // Loaded again, the page must not print again.
    const address = new URL(location.href);
    address.searchParams.delete("cut");
    history.replaceState(null, "", address);
    if (atOnce.checked && button) form.requestSubmit(button);
  }
})();
