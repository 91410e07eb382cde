// The couple's choices: reads the page's inputs, and writes every figure that follows from them.
//
// The build joins sums.js, text.js and this file, without their import and export words, into the one
// script of the page. Nothing is priced here: prices and recipes of every combination come with the
// page. An element that shows a figure names it in data-figure: the key of what
// it belongs to ("piece-2", or "piece-2-1-3" for the third answer to its first choice), then what it is.

import { chargeOf, eachOf, place, totals, usualPicks } from "./sums.js";
import { brief, change, exact, fill, plural } from "./text.js";

const byId = (id) => document.getElementById(id);
const figures = new Map();
// What the page came with, and what follows from it; set by startChoosing.
let data;
let table;
let money;
let words;
let language;
let suggested;
let atFirst;

function gatherFigures() {
  for (const element of document.querySelectorAll("[data-figure]")) {
    const name = element.dataset.figure;
    figures.set(name, [...(figures.get(name) ?? []), element]);
  }
}

function write(name, text) {
  for (const element of figures.get(name) ?? []) if (element.textContent !== text) element.textContent = text;
}

function make(tag, text, attributes = {}) {
  const element = document.createElement(tag);
  element.textContent = text;
  return Object.assign(element, attributes);
}

// What the couple picked. `pick` is the only way to change it, and the place to keep it for a next visit.
let picks;

function pick(next) {
  picks = next;
  draw();
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

function putBack() {
  for (const input of document.querySelectorAll("input")) {
    input.checked = input.defaultChecked;
    input.value = input.defaultValue;
  }
  pick(picksIn());
}

// From picks to the page's figures.

const changed = (list, at, value) => list.map((old, i) => (i === at ? value : old));
const withPiece = (i, values) => ({ ...picks, pieces: changed(picks.pieces, i, { ...picks.pieces[i], ...values }) });
const leadsTo = (next) => fill(words.total, { price: exact(totals(table, next).total, money) });
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
      write(`${key} leads`, leadsTo(withPiece(i, { answers: other })));
    }
    byId(`piece-${i + 1}-${c + 1}`).querySelector(".yours").hidden = picked === piece.usual[c];
  });
}

function drawOut(i, each) {
  const key = `piece-${i + 1}`;
  const { quantity, out } = picks.pieces[i];
  write(`${key} difference`, step(-each * quantity));
  write(`${key} leads`, leadsTo(withPiece(i, { out: true })));
  byId(key).classList.toggle("out", out);
  byId(`${key}-line`).classList.toggle("out", out);
}

function drawPiece(i, now) {
  const key = `piece-${i + 1}`;
  const { answers, quantity, out } = picks.pieces[i];
  const each = eachOf(table.pieces[i], answers);
  const price = brief(each, money);
  const line = brief(each * quantity, money);
  write(`${key} each`, quantity === 1 ? "" : fill(words.each, { price }));
  write(`${key} line`, quantity === 1 ? price : fill(words.line, { n: quantity, price: line }));
  write(`${key} times`, quantity === 1 ? "" : `${quantity} × ${price}`);
  write(`${key} amount`, out ? words.out : exact(now.lines[i], money));
  const yours = byId(`${key}-count`)?.closest(".count").querySelector(".yours");
  if (yours) yours.hidden = quantity === table.pieces[i].quantity;
  drawChoices(i);
  if (table.pieces[i].optional) drawOut(i, each);
  drawStems(i);
}

// The stems of a piece.

// A part of a stem is never cut, so a count that is not whole in each is told across all.
function across(n, d, quantity) {
  const total = BigInt(n) * BigInt(quantity);
  const over = BigInt(d);
  const whole = Number((total + over - 1n) / over);
  const about = total % over !== 0n;
  if (quantity === 1) return about ? fill(words.about, { n: whole }) : String(whole);
  return fill(about ? words.aboutAcross : words.across, { n: whole, pieces: quantity });
}

function stemCells(i, stem, n, d) {
  const { quantity } = picks.pieces[i];
  const several = table.pieces[i].most > 1;
  if (d !== 1 || (quantity > 1 && data.pieces[i].dealt.includes(stem))) {
    return [make("td", across(n, d, quantity), several ? { colSpan: 2 } : {})];
  }
  const all = make("td", String(n * quantity));
  return several ? [make("td", String(n)), all] : [all];
}

function stemRow(i, [stem, n, d]) {
  const row = byId("stem-row").content.firstElementChild.cloneNode(true);
  const [name, colour] = data.stems[stem];
  row.querySelector("svg").setAttribute("color", colour);
  row.querySelector("span").textContent = name;
  if (data.counted) row.append(...stemCells(i, stem, n, d));
  return row;
}

function tally(recipe, quantity) {
  if (!data.counted) return plural(words.kinds, recipe.length, language);
  // Halves, thirds and tenths are added exactly, over one denominator.
  const over = recipe.reduce((product, [, , d]) => product * BigInt(d), 1n);
  const sum = recipe.reduce((all, [, n, d]) => all + (BigInt(n) * over) / BigInt(d), 0n);
  const [alone, inEach] = sum % over ? words.aboutStems : words.stems;
  return plural(quantity === 1 ? alone : inEach, Number((sum + over - 1n) / over), language);
}

const drawnStems = new Map();

function drawStems(i) {
  const body = byId(`piece-${i + 1}-stems`);
  const { answers, quantity } = picks.pieces[i];
  const at = place(table.pieces[i], answers);
  if (!body || drawnStems.get(i) === `${at} ${quantity}`) return;
  drawnStems.set(i, `${at} ${quantity}`);
  const recipe = data.pieces[i].recipes[at];
  write(`piece-${i + 1} tally`, tally(recipe, quantity));
  body.replaceChildren(...recipe.map((line) => stemRow(i, line)));
}

// The estimate.

function drawSums(now) {
  data.parts.forEach((pieces, k) => {
    write(`part-${k + 1}`, brief(pieces.reduce((sum, i) => sum + now.lines[i], 0), money));
  });
  write("subtotal", exact(now.subtotal, money));
  write("discount", exact(-now.discount, money));
  now.charges.forEach((amount, i) => drawCharge(i, amount, now.subtotal));
  now.tax.forEach((amount, i) => write(`tax-${i + 1}`, exact(amount, money)));
  now.payments.forEach((amount, i) => write(`payment-${i + 1}`, exact(amount, money)));
  write("total", exact(now.total, money));
  const low = byId("least");
  if (low) low.hidden = now.total >= data.least;
}

function drawCharge(i, amount, subtotal) {
  const key = `charge-${i + 1}`;
  byId(key).hidden = amount === null;
  write(key, exact(amount ?? 0, money));
  if (!table.charges[i].optional) return;
  write(`${key} difference`, step(chargeOf(table.charges[i], subtotal)));
  write(`${key} leads`, leadsTo({ ...picks, charges: [...picks.charges, i] }));
}

// "Your choices": what differs from what was suggested.

function changesOf(i) {
  const { answers, quantity, out } = picks.pieces[i];
  const piece = table.pieces[i];
  if (out) return [words.out];
  const said = answers.flatMap((a, c) => {
    const labels = data.pieces[i].labels[c];
    return a === piece.usual[c] ? [] : [fill(words.instead, { now: labels[a], usual: labels[piece.usual[c]] })];
  });
  if (quantity !== piece.quantity) said.push(fill(words.instead, { now: quantity, usual: piece.quantity }));
  return said;
}

function differenceRow(href, name, said, units) {
  const row = make("li", "");
  const link = make("a", name, { href, dir: "auto" });
  row.append(link, " ", make("span", step(units), { className: "amount" }), " ");
  row.append(make("span", said, { className: "what", dir: "auto" }));
  return row;
}

function drawDifferences(now) {
  const all = table.pieces.map((_, i) => changesOf(i));
  const rows = all.flatMap((said, i) => {
    const units = now.lines[i] - atFirst.lines[i];
    return said.length ? [differenceRow(`#piece-${i + 1}`, data.pieces[i].name, said.join("; "), units)] : [];
  });
  for (const i of picks.charges) {
    rows.push(differenceRow(`#charge-${i + 1}`, data.charges[i], words.added, now.charges[i]));
  }
  const count = all.flat().length + picks.charges.length;
  const list = byId("differences");
  list.replaceChildren(...rows, list.querySelector(".rest"));
  write("rest", count ? words.everythingElse : words.everything);
  write("differs", count ? plural(words.choices, count, language) : words.suggest);
  byId("back").hidden = !count;
}

function draw() {
  const now = totals(table, picks);
  table.pieces.forEach((_, i) => drawPiece(i, now));
  drawSums(now);
  drawDifferences(now);
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
    putBack();
  }
}

/** Bring the choices of a page that stands in the document to life, once; json is the data it came with. */
export function startChoosing(json) {
  data = JSON.parse(json);
  ({ table, money, words, language } = data);
  suggested = usualPicks(table);
  atFirst = totals(table, suggested);
  picks = suggested;
  gatherFigures();
  document.addEventListener("input", () => pick(picksIn()));
  document.addEventListener("change", ({ target }) => settle(target));
  document.addEventListener("click", clicked);
  document.documentElement.classList.add("live");
  pick(picksIn());
}
