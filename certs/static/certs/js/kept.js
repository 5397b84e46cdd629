/* Keeps what is typed into a long form (data-keep) in this browser until it was taken in.

   By person and path, for seven days; no files, no pass phrases, nothing hidden. When the form is
   opened again it offers what was left unsent. Without a connection nothing is sent: the page stays
   as it is and says so. A form counts as taken in when the page that follows its sending no longer
   holds it. Signing out throws everything of that person away. Without this script forms work as
   ever. */
"use strict";
(() => {
  const own = document.currentScript.dataset;
  const begins = `kept:${own.person}:`;
  const key = `${begins}${location.pathname}`;
  const DAYS_7 = 7 * 24 * 3600 * 1000;
  const NOT_KEPT = new Set(["file", "password", "hidden", "submit", "button", "reset", "image"]);
  const kept = () => document.querySelector("form[data-keep]");
  const sure = new WeakSet();
  let pause = 0;

  const read = (name) => {
    try { return JSON.parse(localStorage.getItem(name)); } catch { return null; }
  };
  const write = (name, entry) => {
    // A full or forbidden store keeps nothing, and the form is sent all the same.
    try { localStorage.setItem(name, JSON.stringify(entry)); } catch { /* see above */ }
  };
  const names = () => {
    try { return Object.keys(localStorage).filter((name) => name.startsWith(begins)); } catch { return []; }
  };

  const parts = (form) => [...form.elements].filter((one) => one.name && !NOT_KEPT.has(one.type));
  const valueOf = (one) => {
    if (one.type === "checkbox" || one.type === "radio") return one.checked ? one.value : null;
    return one.multiple ? [...one.selectedOptions].map((option) => option.value) : one.value;
  };
  const typed = (form) => {
    const found = {};
    for (const one of parts(form)) (found[one.name] ??= []).push(valueOf(one));
    return found;
  };
  const same = (fields, now) =>
    Object.entries(fields).every(([name, values]) => JSON.stringify(values) === JSON.stringify(now[name]));

  const keep = (form, sent) => write(key, { at: Date.now(), fields: typed(form), sent });

  /* What was sent is taken in unless its form is shown again. */
  function settle() {
    for (const name of names()) {
      const entry = read(name);
      const isShownAgain = name === key && kept() && !document.querySelector(".message.success");
      if (!entry || Date.now() - entry.at > DAYS_7 || (entry.sent && !isShownAgain)) localStorage.removeItem(name);
      else if (entry.sent) write(name, { ...entry, sent: false });
    }
  }

  function bar(form, role) {
    form.querySelector(".kept")?.remove();
    const made = document.createElement("div");
    made.className = "kept";
    made.setAttribute("role", role);
    const words = document.createElement("p");
    made.append(words);
    form.append(made);
    return { made, words };
  }
  function button(word, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "quiet";
    made.textContent = word;
    made.addEventListener("click", act);
    return made;
  }
  const two = (number) => String(number).padStart(2, "0");
  const moment = (ms) => {
    const at = new Date(ms);
    return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}`;
  };

  /* Returns how many kept fields have no place in the form as it is now. */
  function putBack(form, fields) {
    const places = {};
    for (const one of parts(form)) (places[one.name] ??= []).push(one);
    for (const [name, values] of Object.entries(fields)) {
      (places[name] ?? []).forEach((one, place) => {
        const value = values[place];
        if (one.type === "checkbox" || one.type === "radio") one.checked = value === one.value;
        else if (one.multiple) for (const option of one.options) option.selected = (value ?? []).includes(option.value);
        else if (value !== undefined && value !== null) one.value = value;
        one.dispatchEvent(new Event("change", { bubbles: true }));
      });
    }
    return Object.keys(fields).filter((name) => !places[name]).length;
  }

  function offer() {
    const form = kept();
    const entry = form && read(key);
    if (!entry || form.querySelector(".error-summary") || same(entry.fields, typed(form))) return;
    const { made, words } = bar(form, "status");
    words.textContent = `You left this unsent on ${moment(entry.at)}.`;
    made.append(
      button("Put it back", () => {
        const missing = putBack(form, entry.fields);
        const files = form.querySelector("input[type=file]") ? " Choose files again: they are not kept." : "";
        if (missing) words.textContent = "Some of it needs more rows: ask for another row, then put it back again.";
        else words.textContent = `It is back.${files}`;
        if (!missing) for (const one of made.querySelectorAll("button")) one.remove();
        keep(form, false);
        form.querySelector("input:not([type=hidden]), select, textarea")?.focus();
      }),
      button("Throw it away", () => {
        localStorage.removeItem(key);
        made.remove();
      }),
    );
  }

  async function isReached() {
    if (!navigator.onLine) return false;
    try {
      return (await fetch(own.alive, { method: "HEAD", cache: "no-store", signal: AbortSignal.timeout(5000) })).ok;
    } catch {
      return false;
    }
  }
  function sayLost(form) {
    keep(form, false);
    const { words } = bar(form, "alert");
    words.textContent = "No connection: nothing was sent. What you typed stays here and is kept in this browser. Send it when the connection is back.";
    addEventListener("online", () => { words.textContent = "The connection is back. Send it now."; }, { once: true });
  }

  function flush() {
    const form = kept();
    clearTimeout(pause);
    pause = 0;
    if (form) keep(form, false);
  }
  function forget() {
    clearTimeout(pause);
    pause = 0;
    names().forEach((name) => localStorage.removeItem(name));
  }

  document.addEventListener("input", (event) => {
    const form = event.target.closest?.("form[data-keep]");
    if (!form) return;
    clearTimeout(pause);
    pause = setTimeout(flush, 400);
  });
  addEventListener("pagehide", () => pause && flush());
  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (form.action.endsWith(own.leave)) forget();
    if (!form.matches("[data-keep]")) return;
    clearTimeout(pause);
    pause = 0;
    if (sure.delete(form)) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    const pressed = event.submitter;
    const waits = setTimeout(() => {
      bar(form, "status").words.textContent = "Looking for the connection: nothing is sent yet.";
    }, 800);
    const reached = await isReached();
    clearTimeout(waits);
    if (!reached) return sayLost(form);
    form.querySelector(".kept")?.remove();
    keep(form, true);
    sure.add(form);
    form.requestSubmit(pressed);
  }, true);
  document.addEventListener("htmx:sendError", (event) => {
    // What a part of the form asks while somebody types is not the form being sent.
    if (event.target.matches?.("form[data-keep]")) sayLost(event.target);
  });
  document.addEventListener("htmx:afterSettle", settle);
  addEventListener("pageshow", (event) => { if (event.persisted) settle(); });
  settle();
  offer();
})();
