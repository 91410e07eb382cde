// The couple's choices: reads the page's inputs, and writes every figure that follows from them.
//
// The build joins this file and those it imports, without their import and export words, into the one
// script of the page. Nothing is priced here: prices and recipes of every combination come with the
// page.

import { gatherFigures, write } from "./figures.js";
import { drawNote, isNote, shorten } from "./notes.js";
import { differing } from "./send.js";
import { keepUp, offerWays, recall, renewed, tapped } from "./sending.js";
import { changed, chargeOf, eachOf, leading, place, totalOf, totals, usualPicks } from "./sums.js";
import { stemRow, tally } from "./stems.js";
import { brief, change, exact, fill, plural } from "./text.js";

const byId = (id) => document.getElementById(id);
// What the page came with, and what follows from it; set by startChoosing.
let data;
let table;
let money;
let words;
let language;
let suggested;
let atFirst;

function make(tag, text, attributes = {}) {
  const element = document.createElement(tag);
  element.textContent = text;
  return Object.assign(element, attributes);
}

// What the couple picked, and their notes: one for each piece, then a general one. `pick` is the only way to
// change either.
let picks;
let notes;

function pick(next, noted = notesIn()) {
  if (isOver(data.close)) close();
  if (closed) return putIn(picks, notes);
  picks = next;
  notes = noted;
  draw();
}

// Another window with this page changed them: this one follows, so that neither writes over the other.
async function catchUp() {
  const kept = closed ? null : await renewed();
  if (!kept) return;
  putIn(kept.picks, kept.notes);
  pick(picksIn());
}

// From the page's inputs to picks.

function quantityIn(i) {
  const value = byId(`piece-${i + 1}-count`)?.valueAsNumber;
  if (!Number.isFinite(value)) return picks.pieces[i].quantity;
  const { least, most } = table.pieces[i];
  return Math.min(most, Math.max(least, Math.round(value)));
}

function pickIn(piece, i) {
  const answers = piece.answers.map((_, c) =>
    Number(byId(`piece-${i + 1}-${c + 1}`).querySelector("input:checked").value),
  );
  return { answers, quantity: quantityIn(i), out: Boolean(byId(`piece-${i + 1}-out`)?.checked) };
}

function picksIn() {
  const charges = table.charges.flatMap((_, i) => (byId(`charge-${i + 1}-in`)?.checked ? [i] : []));
  return { pieces: table.pieces.map(pickIn), charges };
}

const noteFields = () => [...table.pieces.map((_, i) => byId(`piece-${i + 1}-note`)), byId("general-note")];
const notesIn = () => noteFields().map((field) => field.value);

function putIn(next, noted) {
  next.pieces.forEach(({ answers, quantity, out }, i) => {
    const key = `piece-${i + 1}`;
    answers.forEach((a, c) => (byId(`${key}-${c + 1}`).querySelectorAll("input")[a].checked = true));
    if (byId(`${key}-count`)) byId(`${key}-count`).value = quantity;
    if (byId(`${key}-out`)) byId(`${key}-out`).checked = out;
  });
  table.charges.forEach(({ optional }, i) => {
    if (optional) byId(`charge-${i + 1}-in`).checked = next.charges.includes(i);
  });
  noteFields().forEach((field, i) => (field.value = noted[i]));
}

// After the last day for changes, and once approved, everything stands as it is.

let closed = false;
const isOver = (day) => day !== null && new Date() > new Date(`${day}T23:59:59.999`);

function close() {
  closed = true;
  byId("main").classList.add("closed");
  for (const input of byId("main").querySelectorAll("input, textarea")) input.disabled = true;
  for (const part of document.querySelectorAll("[data-while]")) part.hidden = part.dataset.while !== "closed";
}

// From picks to the page's figures.

const leadsTo = (total) => words.total.replace("{price}", () => exact(total, money));
const step = (units) => (units ? change(units, money) : words.same);
const spelled = (n) => words.numbers[n] ?? String(n);

function drawChoices(i) {
  const { answers, quantity } = picks.pieces[i];
  const piece = table.pieces[i];
  answers.forEach((picked, c) => {
    const usual = eachOf(piece, changed(answers, c, piece.usual[c]));
    for (let a = 0; a < piece.answers[c]; a += 1) {
      const key = `piece-${i + 1}-${c + 1}-${a + 1}`;
      const other = changed(answers, c, a);
      const units = eachOf(piece, other) - usual;
      const plain = quantity === 1 || !units;
      const all = { price: step(units * quantity), n: spelled(quantity) };
      write(`${key} difference`, plain ? step(units) : fill(words.each, { price: step(units) }));
      write(`${key} all`, plain ? "" : fill(words.forAll, all));
    }
    byId(`piece-${i + 1}-${c + 1}`).querySelector(".yours").hidden = picked === piece.usual[c];
  });
}


// What each answer leads to follows every tap on any piece; all else of a piece follows its own alone.
function drawLeads(i, leads) {
  const { answers, quantity, out } = picks.pieces[i];
  const piece = table.pieces[i];
  piece.answers.forEach((size, c) => {
    for (let a = 0; a < size; a += 1) {
      const line = out ? 0 : quantity * eachOf(piece, changed(answers, c, a));
      write(`piece-${i + 1}-${c + 1}-${a + 1} leads`, leadsTo(leads(i, line)));
    }
  });
  if (piece.optional) write(`piece-${i + 1} leads`, leadsTo(leads(i, 0)));
}

function drawOut(i, each) {
  const key = `piece-${i + 1}`;
  const { quantity, out } = picks.pieces[i];
  write(`${key} difference`, step(-each * quantity));
  write(`${key} left`, out ? words.out : "");
  byId(key).classList.toggle("out", out);
  byId(`${key}-line`).classList.toggle("out", out);
}

const drawn = [];

function drawPiece(i, now, leads) {
  drawLeads(i, leads);
  const pick = JSON.stringify(picks.pieces[i]);
  if (drawn[i] === pick) return;
  drawn[i] = pick;
  const key = `piece-${i + 1}`;
  const { answers, quantity, out } = picks.pieces[i];
  const each = eachOf(table.pieces[i], answers);
  const price = brief(each, money);
  const line = brief(each * quantity, money);
  write(`${key} each`, quantity === 1 ? "" : fill(words.each, { price }));
  write(`${key} line`, quantity === 1 ? price : fill(words.line, { n: quantity, price: line }));
  write(`${key} times`, quantity === 1 ? "" : `${quantity} × ${price}`);
  write(`${key} amount`, out ? words.out : exact(now.lines[i], money));
  write(`${key} count`, String(quantity));
  const yours = byId(`${key}-count`)?.closest(".count").querySelector(".yours");
  if (yours) yours.hidden = quantity === table.pieces[i].quantity;
  drawChoices(i);
  if (table.pieces[i].optional) drawOut(i, each);
  drawStems(i);
}

// The stems of a piece.

function drawStems(i) {
  const body = byId(`piece-${i + 1}-stems`);
  const { answers, quantity } = picks.pieces[i];
  if (!body) return;
  const recipe = data.pieces[i].recipes[place(table.pieces[i], answers)];
  write(`piece-${i + 1} tally`, tally(data, recipe, quantity));
  body.replaceChildren(...recipe.map((line) => stemRow(data, i, quantity, line)));
}

// The estimate.

function drawSums(now) {
  data.parts.forEach((pieces, k) => {
    write(`part-${k + 1}`, brief(pieces.reduce((sum, i) => sum + now.lines[i], 0), money));
  });
  write("subtotal", exact(now.subtotal, money));
  write("discount", exact(-now.discount, money));
  now.charges.forEach((_, i) => drawCharge(i, now));
  now.tax.forEach((amount, i) => write(`tax-${i + 1}`, exact(amount, money)));
  now.payments.forEach((amount, i) => write(`payment-${i + 1}`, exact(amount, money)));
  write("total", exact(now.total, money));
  write("still", exact(Math.abs(now.total - data.received), money));
  write("still label", now.total < data.received ? words.above : words.due);
  for (const low of document.querySelectorAll(".least")) low.hidden = now.total >= data.least;
}

function drawCharge(i, { charges, subtotal, lines }) {
  const key = `charge-${i + 1}`;
  const amount = charges[i];
  byId(key).hidden = amount === null;
  write(key, exact(amount ?? 0, money));
  if (!table.charges[i].optional) return;
  write(`${key} difference`, step(chargeOf(table.charges[i], subtotal)));
  write(`${key} leads`, leadsTo(totalOf(table, lines, [...picks.charges, i])));
}

// "Your choices": what differs from what was suggested.

function differenceRow(href, name, said, money) {
  const row = make("li", "");
  const link = make("a", name, { href, dir: "auto" });
  row.append(link, " ", make("span", money, { className: "amount" }), " ");
  row.append(make("span", said, { className: "what", dir: "auto" }));
  return row;
}

function drawDifferences(now) {
  const all = picks.pieces.map((one, i) => differing(data, one, i));
  const rows = all.flatMap((said, i) => {
    const moved = said.length ? step(now.lines[i] - atFirst.lines[i]) : "";
    const told = isNote(notes[i]) ? [...said, words.noted] : said;
    return told.length ? [differenceRow(`#piece-${i + 1}`, data.pieces[i].name, told.join("; "), moved)] : [];
  });
  for (const i of picks.charges) {
    rows.push(differenceRow(`#charge-${i + 1}`, data.charges[i], words.added, step(now.charges[i])));
  }
  const count = all.flat().length + picks.charges.length;
  const list = byId("differences");
  list.replaceChildren(...rows, list.querySelector(".rest"));
  write("rest", rows.length ? words.everythingElse : words.everything);
  write("differs", count ? plural(words.choices, count, language) : words.suggest);
  byId("back").hidden = !count || closed;
}

let notesDrawn = [];

function draw() {
  const now = totals(table, picks);
  const leads = leading(table, now.lines, picks.charges);
  table.pieces.forEach((_, i) => drawPiece(i, now, leads));
  drawSums(now);
  drawDifferences(now);
  noteFields().forEach((field, i) => {
    if (notesDrawn[i] !== notes[i]) drawNote(field, data);
  });
  notesDrawn = notes;
  if (!closed) keepUp(picks, notes, now, atFirst);
}

// The page's inputs.

function settle(input) {
  const at = /^piece-(\d+)-count$/.exec(input.id);
  if (at) input.value = picks.pieces[at[1] - 1].quantity;
}

function clicked({ target }) {
  const button = target.closest("[data-step]");
  if (button) {
    const input = button.closest(".stepper").querySelector("input");
    input.value = (input.valueAsNumber || 0) + Number(button.dataset.step);
    pick(picksIn());
    settle(input);
  } else if (target.id === "back" && confirm(words.backAsk)) {
    putIn(suggested, notes);
    pick(suggested);
  } else {
    tapped(target.id);
  }
}

function typed({ target, isComposing }) {
  if (target.tagName === "TEXTAREA" && !isComposing) shorten(target);
  pick(picksIn());
}

/**
 * Bring the choices of a page that stands in the document to life, once; json is the data it came with.
 * A keeper's load(name) and save(name, text) keep a text between visits, save telling whether it could; without
 * one nothing is kept. makeCode({ picks, notes, total, phone, turn }) gives the code's line for a message, or null.
 */
export async function startChoosing(json, { keeper, makeCode } = {}) {
  data = JSON.parse(json);
  ({ table, money, words, language } = data);
  suggested = usualPicks(table);
  atFirst = totals(table, suggested);
  picks = suggested;
  gatherFigures();
  const kept = data.agreed ? null : await recall(data, { keeper, makeCode });
  if (kept) putIn(kept.picks, kept.notes);
  picks = picksIn();
  notes = notesIn();
  if (data.fixed || isOver(data.close)) close();
  else offerWays();
  draw();
  const over = isOver(data.held) ? "yes" : "no";
  for (const part of document.querySelectorAll("[data-past]")) part.hidden = part.dataset.past !== over;
  document.addEventListener("input", typed);
  document.addEventListener("change", ({ target }) => settle(target));
  document.addEventListener("click", clicked);
  if (!data.agreed) addEventListener("storage", catchUp);
  document.documentElement.classList.add("live");
  // Until here nothing would follow a choice, and without a script nothing ever does.
  for (const input of document.querySelectorAll(".answer input, .stepper input")) input.disabled = false;
}
