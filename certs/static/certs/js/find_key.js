/* The key "/" goes to the search box, unless somebody is typing elsewhere. */
"use strict";

document.addEventListener("keydown", (event) => {
  const box = document.getElementById("find");
  const at = event.target;
  const isTyping = at instanceof HTMLElement && (at.isContentEditable || at.closest("input, textarea, select"));
  if (!box || event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || isTyping) return;
  event.preventDefault();
  box.focus();
  box.select();
});
