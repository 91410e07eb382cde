// The page around a sealed proposal: one tap, then the content. Until then nothing is opened, so that
// previews and scanners, which run scripts too, show nothing.
//
// The key stays behind the # of the address: reload, bookmark and "open in browser" need it there. So
// nothing on the page may put anything else there: its own links scroll instead.

import { startChoosing } from "./choose.js";
import { notesDigest, replyCode } from "./code.js";
import { sealedKeeper } from "./keeping.js";
import { fragmentOf, fromSymbols, readLink, toSymbols } from "./link.js";
import { canOpen, openPage, viewSecret } from "./open.js";
import { loadPhotos, photosWaiting, takePhotos } from "./photos.js";
import { showState } from "./states.js";
import { startViewer } from "./viewer.js";

const element = (id) => document.getElementById(id);
// The folder of this page, whether the address ends with it, with a slash, or with index.html.
const home = /^.*\/[0-9A-Za-z]{26}(?=\/|$)/.exec(location.pathname)?.[0] ?? location.pathname;
const asHtml = globalThis.trustedTypes?.createPolicy("sitegen", { createHTML: (text) => text });

let link = { fault: "no key" };
let openedWith = null;

async function linkNow() {
  if (top !== self) return { fault: "framed" };
  if (!canOpen()) return { fault: location.protocol === "http:" ? "insecure" : "unavailable" };
  return readLink(location.href);
}

async function begin() {
  link = await linkNow();
  element("secure").href = `https://${location.host}${location.pathname}${location.hash}`;
  showState(link.fault ?? "ready");
}

function say(state) {
  showState(state);
  element("shell").querySelector("section:not([hidden]) h1")?.focus();
}

async function unlock(phrase = "") {
  showState("opening");
  const found = await openPage(element("sealed").textContent, link, phrase);
  if (found.failure) say(found.failure);
  else await mount(found);
}

async function mount(found) {
  const { body, figures, tokens, language, direction } = found.texts;
  const node = element("mount");
  openedWith = await fragmentOf(link);
  node.innerHTML = asHtml ? asHtml.createHTML(body) : body;
  // First of all: the picture of the opening is on its way while the page is laid out.
  takePhotos(node, found, `${home}/`);
  node.lang = language;
  node.dir = direction;
  for (const token of tokens.split("; ")) node.style.setProperty(...token.split(": "));
  showState("open");
  element("shell").hidden = true;
  node.hidden = false;
  scrollTo(0, 0);
  startViewer(node);
  const keeper = sealedKeeper(found.keys.local);
  startChoosing(figures, { keeper, makeCode: codeFor(found) });
  await offerLink();
  await compareWithLast(found.revision, keeper);
}

// A host, or a cache on the way, may show an earlier proposal again, which opens as well as the last.
async function compareWithLast(revision, keeper) {
  const last = Number(await keeper.load("revision"));
  element("earlier").hidden = revision >= last;
  if (revision > last) await keeper.save("revision", `${revision}`);
}

// The code by which the studio knows a reply; a link that only shows has no key for it.
function codeFor({ keys, revision, texts }) {
  if (!keys.reply) return null;
  const { table } = JSON.parse(texts.figures);
  return async ({ notes, ...said }) =>
    replyCode(keys.reply, link.pid, table, { ...said, revision, notes: await notesDigest(notes) });
}

// Links within the page.

function follow(event) {
  const within = event.target.closest('a[href^="#"]');
  if (!within) return;
  event.preventDefault();
  const goal = element(decodeURIComponent(within.hash.slice(1)));
  if (!goal) return;
  goal.scrollIntoView();
  if (!goal.hasAttribute("tabindex")) goal.tabIndex = -1;
  goal.focus({ preventScroll: true });
}

// Another link in the same tab only changes what is behind #, and loads nothing by itself.
async function changedAddress() {
  if (!openedWith) {
    await begin();
    return;
  }
  const next = await linkNow();
  if (!next.fault && (await fragmentOf(next)) !== openedWith) location.reload();
  else history.replaceState(null, "", `#${openedWith}`);
}

async function pasted(event) {
  event.preventDefault();
  const folder = home.slice(-26).toLowerCase();
  const found = await readLink(element("pasted").value, fromSymbols(folder));
  if (found.fault) {
    say(found.fault);
  } else if (toSymbols(found.pid) !== folder) {
    // Another proposal of the same studio: its page lies beside this one.
    location.assign(`${home.slice(0, -26)}${toSymbols(found.pid)}/#${await fragmentOf(found)}`);
  } else {
    link = found;
    history.replaceState(null, "", `#${await fragmentOf(found)}`);
    await unlock();
  }
}

// What a reader may want once it is open.

async function offerLink() {
  const shown = { kind: "v", pid: link.pid, secret: await viewSecret(link) };
  const text = `${location.origin}${home}/#${await fragmentOf(shown)}`;
  const said = element("shared");
  element("share").addEventListener("click", () => {
    const copied = navigator.clipboard?.writeText(text) ?? Promise.reject(new Error("no clipboard"));
    copied.then(
      () => (said.textContent = said.dataset.said),
      () => (said.textContent = text),
    );
  });
}

async function printAll() {
  await loadPhotos();
  print();
}

element("open").addEventListener("click", () => unlock());
element("paste").addEventListener("submit", pasted);
element("ask-phrase").addEventListener("submit", (event) => {
  event.preventDefault();
  unlock(element("phrase").value);
});
element("mount").addEventListener("click", follow);
element("print").addEventListener("click", printAll);
for (const button of document.querySelectorAll("[data-reload]"))
  button.addEventListener("click", () => location.reload());
addEventListener("hashchange", changedAddress);
addEventListener("pageshow", ({ persisted }) => persisted && changedAddress());
addEventListener("beforeprint", () => (element("closed-photos").hidden = !photosWaiting()));
begin();
