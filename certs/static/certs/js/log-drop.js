/* Shows that a force log may be dropped on its field, and says so when it cannot be shown ahead.
   The field takes the file by itself, and the page works without this. */
"use strict";

const field = document.querySelector(".test-form input[type=file]");
if (field) {
  field.addEventListener("dragover", () => field.classList.add("over"));
  for (const end of ["dragleave", "drop", "dragend"]) {
    field.addEventListener(end, () => field.classList.remove("over"));
  }
}

// Another log may show less: the room that was taken stays.
document.addEventListener("htmx:beforeSwap", () => {
  const preview = document.getElementById("preview");
  preview.style.minHeight = `${preview.offsetHeight}px`;
});

const failed = () => {
  const words = "The log could not be shown ahead. Nothing typed is lost: choose it again, or record the test as it is.";
  document.getElementById("preview-said").textContent = words;
  const note = document.createElement("p");
  note.className = "preview-empty";
  note.textContent = words;
  document.getElementById("preview").replaceChildren(note);
};
document.addEventListener("htmx:responseError", failed);
document.addEventListener("htmx:sendError", failed);
