// From picks to a total: integer sums, and the charges, rates and rounding of the terms, exactly as
// choices/totals.py does it. Pure: data in, data out, nothing here touches the page.
//
// Amounts come in and go out as whole numbers of the currency's smallest unit. Products of amounts
// and ratios pass 2^53, so they are made of BigInt. Nothing is ever below nought here.

/** The picks as suggested: optional pieces are in, optional charges are not. */
export function usualPicks(table) {
  const pieces = table.pieces.map(({ usual, quantity }) => ({ answers: usual, quantity, out: false }));
  return { pieces, charges: [] };
}

/** The place of a combination of answers in a piece's lists; the last choice turns fastest. */
export function place(piece, answers) {
  return answers.reduce((at, answer, choice) => at * piece.answers[choice] + answer, 0);
}

/** A list with another value in one place. */
export const changed = (list, at, value) => list.map((old, i) => (i === at ? value : old));

/** The price of one piece for these answers. */
export const eachOf = (piece, answers) => piece.each[place(piece, answers)];

/** n / d to a whole number, halves up (which is away from nought, as nothing is below it). */
const rounded = (n, d) => (2n * n + d) / (2n * d);

/** A part of an amount: a share [numerator, denominator], or a fixed amount. */
function partOf(part, amount) {
  if (!Array.isArray(part)) return part;
  return Number(rounded(BigInt(part[0]) * BigInt(amount), BigInt(part[1])));
}

/** All rates over one denominator, each and their sum. */
function overOne(rates) {
  const over = rates.reduce((product, [, d]) => product * BigInt(d), 1n);
  const parts = rates.map(([n, d]) => (BigInt(n) * over) / BigInt(d));
  return { over, parts, rate: sumBig(parts) };
}

const sum = (numbers) => numbers.reduce((a, b) => a + b, 0);
const sumBig = (numbers) => numbers.reduce((a, b) => a + b, 0n);

/** Split a whole amount by weights to the last unit: largest remainders first, ties to the earlier. */
function shared(total, weights) {
  const all = sumBig(weights) || 1n;
  const parts = weights.map((weight) => (total * weight) / all);
  const rests = weights.map((weight) => (total * weight) % all);
  const order = weights.map((_, i) => i).sort((a, b) => (rests[a] === rests[b] ? a - b : rests[a] > rests[b] ? -1 : 1));
  const left = Number(total - sumBig(parts));
  for (const i of order.slice(0, left)) parts[i] += 1n;
  return parts.map(Number);
}

/** What of the lines is taxed: one sum, or line by line. */
const taxedOf = (table, lines) => {
  const taxed = lines.filter((_, i) => table.pieces[i].taxable);
  return table.per_line ? taxed : [sum(taxed)];
};

/** Tax, as one sum from all rates together: rounded once, or line by line. */
function taxOf(table, { over, rate }, { taxed, charges, subtotal, discount }) {
  const added = charges.filter((amount, i) => table.charges[i].taxable && amount !== null);
  // What is due on each base, as a numerator over one denominator: a line as the discount leaves it. Amounts are
  // added before they are multiplied: a tap leads to hundreds of totals.
  const whole = discount ? BigInt(subtotal) : 1n;
  const kept = discount ? BigInt(subtotal - discount) : 1n;
  const others = table.per_line ? added : [sum(added)];
  const bases = [...taxed.map((line) => BigInt(line) * kept), ...others.map((amount) => BigInt(amount) * whole)];
  const roundedAt = table.per_line ? bases : [sumBig(bases)];
  const below = whole * (table.included ? over + rate : over);
  return sumBig(roundedAt.map((base) => rounded(base * rate, below)));
}

/** Payments that add up to the total: one that is null takes the rest, and none asks for more than is left. */
function paymentsOf(parts, total) {
  let left = total;
  return parts.map((part) => {
    const paid = part === null ? left : Math.min(partOf(part, total), left);
    left -= paid;
    return paid;
  });
}

/** What a charge is, whether it is chosen or not. */
export const chargeOf = (charge, subtotal) => Math.max(partOf(charge.part, subtotal), charge.least);

/** The line of each piece for these picks; nought for one that is left out. */
export const linesOf = (table, picks) =>
  table.pieces.map((piece, i) => {
    const { out, quantity, answers } = picks.pieces[i];
    return out ? 0 : quantity * eachOf(piece, answers);
  });

const baseOf = (table, lines) => ({
  subtotal: sum(lines),
  taxed: taxedOf(table, lines),
  rates: overOne(table.rates),
});

function sumsOf(table, { subtotal, taxed, rates }, chosen) {
  const discount = table.discount === null ? 0 : Math.min(partOf(table.discount, subtotal), subtotal);
  const charges = table.charges.map((charge, i) =>
    charge.optional && !chosen.includes(i) ? null : chargeOf(charge, subtotal),
  );
  const due = taxOf(table, rates, { taxed, charges, subtotal, discount });
  const total = subtotal - discount + sum(charges.map(Number)) + (table.included ? 0 : Number(due));
  return { subtotal, discount, charges, due, total, rates };
}

/** The total alone for these lines and chosen charges. */
export const totalOf = (table, lines, chosen) => sumsOf(table, baseOf(table, lines), chosen).total;

/**
 * Give the total that another line for one piece leads to, as a function of the piece's index and that line. A tap
 * asks it hundreds of times, so it adds up only what differs.
 */
export function leading(table, lines, chosen) {
  const base = baseOf(table, lines);
  return (i, line) => {
    const more = line - lines[i];
    const taxed = table.per_line
      ? taxedOf(table, changed(lines, i, line))
      : [base.taxed[0] + (table.pieces[i].taxable ? more : 0)];
    return sumsOf(table, { ...base, subtotal: base.subtotal + more, taxed }, chosen).total;
  };
}

/** All sums of a proposal for these picks; a charge that was not chosen is null. */
export function totals(table, picks) {
  const lines = linesOf(table, picks);
  const { due, rates, ...sums } = sumsOf(table, baseOf(table, lines), picks.charges);
  return { lines, ...sums, tax: shared(due, rates.parts), payments: paymentsOf(table.payments, sums.total) };
}
