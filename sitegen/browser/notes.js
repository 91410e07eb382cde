// The couple's notes: as long as they may be, and how much is left.

import { plural } from "./text.js";

const LONGEST_NOTE = 500;
const TELL_FROM = 50;

/** Say beside a note how many characters are left, aloud near the end, and on its outside that it is there. */
export function drawNote(field, { words, language }) {
  const left = LONGEST_NOTE - Array.from(field.value).length;
  const said = document.getElementById(`${field.id}-left`);
  said.textContent = plural(words.left, left, language);
  said.ariaLive = left <= TELL_FROM ? "polite" : "off";
  field.closest("details").querySelector(".tally").textContent = isNote(field.value) ? words.noted : "";
}

export const isNote = (text) => /\S/.test(text);

/** Cut what is too long, counted by whole characters beyond 16 bits too, and never within one. */
export function shorten(field) {
  const characters = Array.from(field.value);
  if (characters.length > LONGEST_NOTE) field.value = characters.slice(0, LONGEST_NOTE).join("");
}
