// What is in a piece, for the recipe its answers lead to.

import { fill, plural } from "./text.js";

// A part of a stem is never cut, so a count that is not whole in each is told across all.
function across(n, d, quantity, words) {
  const total = BigInt(n) * BigInt(quantity);
  const over = BigInt(d);
  const whole = Number((total + over - 1n) / over);
  const about = total % over !== 0n;
  if (quantity === 1) return about ? fill(words.about, { n: whole }) : String(whole);
  return fill(about ? words.aboutAcross : words.across, { n: whole, pieces: quantity });
}

function cell(text, wide) {
  const element = document.createElement("td");
  element.textContent = text;
  if (wide) element.colSpan = 2;
  return element;
}

function cells(data, i, quantity, [stem, n, d]) {
  const several = data.table.pieces[i].most > 1;
  if (d !== 1 || (quantity > 1 && data.pieces[i].dealt.includes(stem))) {
    return [cell(across(n, d, quantity, data.words), several)];
  }
  const all = cell(String(n * quantity));
  return several ? [cell(String(n)), all] : [all];
}

/** The row of one line of a recipe, for so many pieces. */
export function stemRow(data, i, quantity, line) {
  const row = document.getElementById("stem-row").content.firstElementChild.cloneNode(true);
  const [name, colour] = data.stems[line[0]];
  row.querySelector("svg").setAttribute("color", colour);
  row.querySelector("span").textContent = name;
  if (data.counted) row.append(...cells(data, i, quantity, line));
  return row;
}

/** How many stems a recipe has, in words. */
export function tally({ counted, words, language }, recipe, quantity) {
  if (!counted) return plural(words.kinds, recipe.length, language);
  // Halves, thirds and tenths are added exactly, over one denominator.
  const over = recipe.reduce((product, [, , d]) => product * BigInt(d), 1n);
  const sum = recipe.reduce((all, [, n, d]) => all + (BigInt(n) * over) / BigInt(d), 0n);
  const [alone, inEach] = sum % over ? words.aboutStems : words.stems;
  return plural(quantity === 1 ? alone : inEach, Number((sum + over - 1n) / over), language);
}
