// The couple's choices: reads the page's inputs, and writes every figure that follows from them.
//
// The build joins sums.js, text.js and this file, without their import and export words, into the one
// script of the page. Nothing is priced here: prices and recipes of every combination come with the page,
// in its element "figures". Elements that show a figure name it in data-figure: the key of what it
// belongs to ("piece-2", "piece-2-0-1" for an answer), then what it is ("each", "leads").

import { combination, picksAsSuggested, totals } from "./sums.js";
import { brief, change, exact, fill, plural } from "./text.js";

const byId = (id) => document.getElementById(id);
const data = JSON.parse(byId("figures").textContent);
const { money, words, language } = data;
const suggested = picksAsSuggested(data);
const atFirst = totals(data, suggested);

const figures = new Map();
for (const element of document.querySelectorAll("[data-figure]")) {
  const name = element.dataset.figure;
  figures.set(name, [...(figures.get(name) ?? []), element]);
}

function write(name, text) {
  for (const element of figures.get(name) ?? []) if (element.textContent !== text) element.textContent = text;
}

function make(tag, className, text) {
  const element = document.createElement(tag);
  if (className) element.className = className;
  element.textContent = text;
  return element;
}

// What the couple picked. `pick` is the only way in: whoever keeps picks for the next visit does it there.
let picks = suggested;

function pick(next) {
  picks = next;
  draw();
}

// From the page's inputs to picks.

function quantityIn(piece, before) {
  const input = byId(`${piece.key}-count`);
  if (!input || !Number.isFinite(input.valueAsNumber)) return before;
  const [, least, most] = piece.quantity;
  return Math.min(most, Math.max(least, Math.round(input.valueAsNumber)));
}

function answerIn(choice) {
  return Number(byId(choice.key).querySelector("input:checked").value);
}

function picksIn() {
  return {
    answers: data.pieces.map((piece) => piece.choices.map(answerIn)),
    quantities: data.pieces.map((piece, i) => quantityIn(piece, picks.quantities[i])),
    out: data.pieces.map((piece) => Boolean(byId(`${piece.key}-out`)?.checked)),
    charges: data.charges.map((charge) => !charge.optional || byId(`${charge.key}-in`).checked),
  };
}

function putBack() {
  data.pieces.forEach((piece, i) => {
    piece.choices.forEach((choice) => {
      byId(choice.key).querySelectorAll("input")[choice.usual].checked = true;
    });
    const out = byId(`${piece.key}-out`);
    const count = byId(`${piece.key}-count`);
    if (out) out.checked = false;
    if (count) count.value = suggested.quantities[i];
  });
  for (const charge of data.charges) if (charge.optional) byId(`${charge.key}-in`).checked = false;
}

// From picks to the page.

const changed = (list, index, value) => list.map((old, i) => (i === index ? value : old));
const withAnswer = (i, c, a) => ({ ...picks, answers: changed(picks.answers, i, changed(picks.answers[i], c, a)) });
const totalWith = (next) => fill(words.total, { price: exact(totals(data, next).total, money) });
const spelled = (n) => words.numbers[n] ?? String(n);

function drawAnswers(piece, i, quantity) {
  piece.choices.forEach((choice, c) => {
    const each = (a) => piece.each[combination(piece, changed(picks.answers[i], c, a))];
    choice.answers.forEach((_, a) => {
      const key = `${choice.key}-${a}`;
      const step = each(a) - each(choice.usual);
      const forAll = quantity === 1 || !step;
      const price = change(step, money);
      write(`${key} difference`, !step ? words.same : forAll ? price : fill(words.each, { price }));
      write(`${key} all`, forAll ? "" : fill(words.forAll, { price: change(step * quantity, money), n: spelled(quantity) }));
      write(`${key} leads`, totalWith(withAnswer(i, c, a)));
    });
    byId(choice.key).querySelector(".yours").hidden = picks.answers[i][c] === choice.usual;
  });
}

function drawOut(piece, i) {
  const box = byId(`${piece.key}-out`);
  if (!box) return;
  const price = piece.each[combination(piece, picks.answers[i])] * picks.quantities[i];
  write(`${piece.key} difference`, price ? change(-price, money) : words.same);
  write(`${piece.key} leads`, totalWith({ ...picks, out: changed(picks.out, i, true) }));
  box.closest("article").classList.toggle("out", picks.out[i]);
  byId(`${piece.key}-line`).classList.toggle("out", picks.out[i]);
}

function drawPiece(piece, i, now) {
  const quantity = picks.quantities[i];
  const each = piece.each[combination(piece, picks.answers[i])];
  const price = brief(each, money);
  const line = { n: quantity, price: brief(each * quantity, money) };
  write(`${piece.key} each`, quantity === 1 ? "" : fill(words.each, { price }));
  write(`${piece.key} line`, quantity === 1 ? price : fill(words.line, line));
  write(`${piece.key} times`, quantity === 1 ? "" : `${quantity} × ${price}`);
  write(`${piece.key} amount`, picks.out[i] ? words.out : exact(now.lines[i], money));
  const yours = byId(`${piece.key}-count`)?.closest(".count").querySelector(".yours");
  if (yours) yours.hidden = quantity === suggested.quantities[i];
  drawAnswers(piece, i, quantity);
  drawOut(piece, i);
  drawStems(piece, i, quantity);
}

// A part of a stem is never cut, so a count that is not whole in each is told across all.
function across(n, d, quantity) {
  const total = BigInt(n) * BigInt(quantity);
  const over = BigInt(d);
  const whole = Number((total + over - 1n) / over);
  const about = total % over !== 0n;
  if (quantity === 1) return about ? fill(words.about, { n: whole }) : String(whole);
  return fill(about ? words.aboutAcross : words.across, { n: whole, pieces: quantity });
}

function stemRow(stem, n, d, quantity, piece) {
  const [name, colour] = data.stems[stem];
  const row = document.createElement("tr");
  const head = make("th", "", "");
  const label = make("span", "", name);
  head.scope = "row";
  label.dir = "auto";
  head.append(dot(colour), label);
  row.append(head);
  if (data.show !== "counts") return row;
  const several = piece.quantity[2] > 1;
  if (d === 1 && (quantity === 1 || !piece.dealt.includes(stem))) {
    if (several) row.append(make("td", "", String(n)));
    row.append(make("td", "", String(n * quantity)));
  } else {
    const cell = make("td", "", across(n, d, quantity));
    if (several) cell.colSpan = 2;
    row.append(cell);
  }
  return row;
}

function dot(colour) {
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  const circle = document.createElementNS("http://www.w3.org/2000/svg", "circle");
  const set = (element, attributes) => {
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  };
  set(svg, { class: "dot", "aria-hidden": "true", focusable: "false", color: colour });
  set(circle, { cx: "50%", cy: "50%", r: "50%", fill: "currentColor" });
  svg.append(circle);
  return svg;
}

function tally(recipe, quantity) {
  if (data.show !== "counts") return plural(words.kinds, recipe.length, language);
  // Halves, thirds and tenths are added exactly over one common denominator.
  const over = recipe.reduce((product, [, , d]) => product * BigInt(d), 1n);
  const sum = recipe.reduce((total, [, n, d]) => total + (BigInt(n) * over) / BigInt(d), 0n);
  const forms = sum % over ? words.aboutStems : words.stems;
  return plural(forms[quantity === 1 ? 0 : 1], Number((sum + over - 1n) / over), language);
}

const drawn = new Map();

function drawStems(piece, i, quantity) {
  const body = byId(`${piece.key}-stems`);
  const at = combination(piece, picks.answers[i]);
  const state = `${at} ${quantity}`;
  if (!body || drawn.get(piece.key) === state) return;
  drawn.set(piece.key, state);
  const recipe = piece.stems[at];
  write(`${piece.key} tally`, tally(recipe, quantity));
  body.replaceChildren(...recipe.map(([stem, n, d]) => stemRow(stem, n, d, quantity, piece)));
}

function drawSums(now) {
  for (const [key, pieces] of Object.entries(data.parts)) {
    write(key, brief(pieces.reduce((sum, i) => sum + now.lines[i], 0), money));
  }
  write("subtotal", exact(now.subtotal, money));
  write("discount", exact(-now.discount, money));
  data.charges.forEach((charge, i) => {
    byId(charge.key).hidden = !picks.charges[i];
    write(charge.key, exact(now.charges[i], money));
    if (!charge.optional) return;
    const added = { ...picks, charges: changed(picks.charges, i, true) };
    const price = totals(data, added).charges[i];
    write(`${charge.key} difference`, price ? change(price, money) : words.same);
    write(`${charge.key} leads`, totalWith(added));
  });
  now.tax.forEach((amount, i) => write(`tax-${i + 1}`, exact(amount, money)));
  now.payments.forEach((amount, i) => write(`payment-${i + 1}`, exact(amount, money)));
  write("total", exact(now.total, money));
  const short = byId("least");
  if (short) short.hidden = now.total >= data.least;
}

// What differs from what was suggested, as rows of "Your choices".

function pieceChanges(piece, i) {
  if (picks.out[i]) return [words.out];
  const said = piece.choices.flatMap((choice, c) => {
    const answer = picks.answers[i][c];
    if (answer === choice.usual) return [];
    return [fill(words.instead, { now: choice.answers[answer], usual: choice.answers[choice.usual] })];
  });
  const [usual] = piece.quantity;
  if (picks.quantities[i] !== usual) said.push(fill(words.instead, { now: picks.quantities[i], usual }));
  return said;
}

function differenceRow(href, name, said, step) {
  const row = document.createElement("li");
  const link = make("a", "", name);
  link.href = href;
  row.append(link, " ", make("span", "amount", step ? change(step, money) : words.same), " ", make("span", "what", said));
  return row;
}

function drawDifferences(now) {
  const rows = [];
  let count = 0;
  data.pieces.forEach((piece, i) => {
    const said = pieceChanges(piece, i);
    count += said.length;
    if (said.length) rows.push(differenceRow(`#${piece.key}`, piece.name, said.join("; "), now.lines[i] - atFirst.lines[i]));
  });
  data.charges.forEach((charge, i) => {
    if (!charge.optional || !picks.charges[i]) return;
    count += 1;
    rows.push(differenceRow("#estimate", charge.label, words.added, now.charges[i]));
  });
  const list = byId("differences");
  list.replaceChildren(...rows, list.querySelector(".rest"));
  write("rest", count ? words.everythingElse : words.everything);
  write("differs", count ? plural(words.choices, count, language) : words.suggest);
  byId("back").hidden = !count;
}

function draw() {
  const now = totals(data, picks);
  data.pieces.forEach((piece, i) => drawPiece(piece, i, now));
  drawSums(now);
  drawDifferences(now);
}

document.addEventListener("input", () => pick(picksIn()));
document.addEventListener("change", ({ target }) => {
  const i = data.pieces.findIndex((piece) => target.id === `${piece.key}-count`);
  if (i >= 0) target.value = picks.quantities[i];
});
document.addEventListener("click", ({ target }) => {
  const step = target.closest("[data-step]")?.dataset.step;
  if (step) {
    const input = target.closest(".stepper").querySelector("input");
    input.value = (input.valueAsNumber || 0) + Number(step);
    pick(picksIn());
    input.value = picks.quantities[data.pieces.findIndex((piece) => input.id === `${piece.key}-count`)];
  } else if (target.id === "back" && confirm(words.backAsk)) {
    putBack();
    pick(picksIn());
  }
});
document.documentElement.classList.add("live");
pick(picksIn());
