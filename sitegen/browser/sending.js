// "Your choices" after they are made: kept for the next visit, told where they no longer fit, and sent.
//
// Nothing is sent by the page itself: it hands a message to the phone's share sheet, a mail program, the
// clipboard or a file. Sharing and copying are allowed within the tap alone, so the message is always ready.

import { broughtBack, keptOf } from "./keep.js";
import { isNote } from "./notes.js";
import { mailLink, notesText, numbered, summaryOf, wholeMessage } from "./send.js";
import { fill, plural } from "./text.js";

const part = (id) => document.getElementById(id);
const newPhone = () => crypto.getRandomValues(new Uint16Array(1))[0];
// What the page came with, and where it keeps and how it proves; set by recall.
let shown;
let keeper;
let makeCode;
// Beside the choices: a mark of this browser, its last message, and what no longer fitted.
let book;
let written;
// What another window kept is not kept again: an older page would drop what it does not know.
let following = false;
// What is chosen now, and the message that says so: null while a code is being made.
let chosen;
let ready = null;
let composing;

/** Bring back what this browser kept of the page, { picks, notes }; null where there is nothing. */
export async function recall(data, how) {
  shown = data;
  ({ keeper, makeCode } = how);
  book = { phone: newPhone(), sent: null, lost: [] };
  try {
    written = await keeper?.load(data.page);
    const found = JSON.parse(written ?? "null");
    if (!found) return null;
    const back = broughtBack(data, found.chosen);
    book = { ...found.book, lost: [...new Set([...found.book.lost, ...back.lost])] };
    return back;
  } catch {
    return null;
  }
}

/** What another window with this page kept since, as recall gives it; null where that is nothing new. */
export async function renewed() {
  const text = await keeper?.load(shown.page);
  if (!text || text === written) return null;
  const kept = await recall(shown, { keeper, makeCode });
  following = kept !== null;
  return kept;
}

async function save() {
  const text = JSON.stringify({ book, chosen });
  if (text === written) return;
  written = text;
  part("kept").hidden = !(await keeper?.save(shown.page, text)) || part("kept").textContent === "";
}

const dateOf = (time) => new Intl.DateTimeFormat(shown.language, { dateStyle: "long" }).format(new Date(time));

function drawKept(any) {
  const { sent } = book;
  const { words } = shown;
  const said = sent?.said === JSON.stringify(chosen) ? words.sent : words.later;
  part("kept").textContent = sent ? fill(said, { date: dateOf(sent.at) }) : any ? words.kept : "";
}

function drawLost() {
  const { lost } = book;
  part("unfit").hidden = !lost.length;
  const rows = lost.map((text) => Object.assign(document.createElement("li"), { textContent: text, dir: "auto" }));
  part("unfit").querySelector("ul").replaceChildren(...rows);
  part("unfit-brief").textContent = lost.length ? plural(shown.words.unfit, lost.length, shown.language) : "";
}

// A code counts this browser's messages; what says the same as the last one is the same message.
function nextMessage() {
  const { phone, sent } = book;
  if (!sent) return { phone, turn: 0 };
  const turn = sent.turn + Number(sent.said !== JSON.stringify(chosen));
  return turn < 256 ? { phone, turn } : { phone: newPhone(), turn: 0 };
}

async function compose(picks, notes, now, atFirst) {
  const next = nextMessage();
  const made = { ...next, summary: summaryOf(shown, picks, now, atFirst), notes: notesText(shown, notes), code: "" };
  if (makeCode) {
    ready = null;
    const mine = chosen;
    made.code = (await makeCode({ ...next, picks, notes: numbered(notes), total: now.total })) ?? "";
    if (mine !== chosen) return composing;
  }
  ready = made;
  part("message").value = wholeMessage(made, shown.words);
  part("send-mail").href = mailLink(shown.mail, made, shown.words).href;
  return made;
}

/** Keep what is chosen, and have the message ready; *now* and *atFirst* are the sums it leads to and came from. */
export function keepUp(picks, notes, now, atFirst) {
  chosen = keptOf(shown, picks, notes);
  const any = chosen.pieces.length + chosen.charges.length > 0 || isNote(chosen.note);
  drawKept(any);
  drawLost();
  if (!following && (any || written)) save();
  following = false;
  composing = compose(picks, notes, now, atFirst);
}

function copy(text) {
  const done = navigator.clipboard?.writeText(text) ?? Promise.reject(new Error("no clipboard"));
  return done.then(
    () => true,
    () => false,
  );
}

function saveFile(text) {
  const href = URL.createObjectURL(new Blob([text], { type: "text/plain;charset=utf-8" }));
  Object.assign(document.createElement("a"), { href, download: shown.words.file }).click();
  setTimeout(() => URL.revokeObjectURL(href), 60_000);
}

// Each way gives what to say when it is done, or null where the couple turned back. An address would be
// shared with its key, so text alone is handed on.
const WAYS = {
  "send-share": (text, words) =>
    navigator.share({ text }).then(
      () => words.shared,
      () => null,
    ),
  "send-mail": async (text, words, made) => {
    if (!mailLink(shown.mail, made, words).short) return words.mailed;
    return (await copy(text)) ? words.cut : words.select;
  },
  "send-copy": async (text, words) => ((await copy(text)) ? words.copied : words.select),
  "send-file": (text, words) => {
    saveFile(text);
    return words.saved;
  },
};

async function send(way) {
  const { words } = shown;
  const made = ready ?? (await composing);
  const said = await WAYS[way](wholeMessage(made, words), words, made);
  if (said === null) return;
  part("send-said").textContent = said;
  if (said === words.select || way === "send-copy") part("message-shown").open = true;
  if (said === words.select) part("message").select();
  book.phone = made.phone;
  book.sent = { said: JSON.stringify(chosen), turn: made.turn, at: Date.now() };
  drawKept(true);
  save();
}

/** Answer a tap on one of the ways to send, or on the list of what no longer fits. */
export function tapped(id) {
  if (id in WAYS) send(id);
  if (id !== "unfit-seen") return;
  book.lost = [];
  drawLost();
  part("differences").scrollIntoView({ block: "nearest" });
  save();
}

/** Show the ways that this browser has. */
export function offerWays() {
  part("send-share").hidden = !navigator.share;
}
