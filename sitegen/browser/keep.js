// What a couple chose, as it is kept between visits: by the names of pieces, choices and answers, so that it
// comes back on a later version of the page. Only what differs from what was suggested is kept, with the words
// it was shown with, to name what no longer fits. Pure.

import { fill } from "./text.js";

function keptPiece(data, i, pick, note) {
  const { usual, quantity } = data.table.pieces[i];
  const { name, choices, labels } = data.pieces[i];
  const answers = choices.flatMap(([id, ask, ids], c) => {
    const a = pick.answers[c];
    return a === usual[c] ? [] : [[id, ids[a], ask, labels[c][a]]];
  });
  const count = pick.quantity === quantity ? null : pick.quantity;
  return answers.length || count !== null || pick.out || note ? { name, answers, count, out: pick.out, note } : null;
}

/** Picks and notes (one for each piece, then a general one) as plain data. */
export function keptOf(data, picks, notes) {
  const pieces = data.table.pieces.flatMap(({ id }, i) => {
    const kept = keptPiece(data, i, picks.pieces[i], notes[i]);
    return kept ? [[id, kept]] : [];
  });
  const charges = picks.charges.map((i) => [data.table.charges[i].id, data.charges[i]]);
  return { pieces, charges, note: notes.at(-1) };
}

const wordsOf = ({ answers, count, out, note }, words) =>
  [
    ...answers.map(([, , , label]) => label),
    ...(count === null ? [] : [String(count)]),
    ...(out ? [words.out] : []),
    ...(note ? [fill(words.yourNote, { note })] : []),
  ].join("; ");

function answersFrom({ name, answers }, usual, choices, words, lost) {
  const found = [...usual];
  for (const [id, answer, ask, what] of answers) {
    const c = choices.findIndex(([known]) => known === id);
    const a = c < 0 ? -1 : choices[c][2].indexOf(answer);
    if (a >= 0) found[c] = a;
    else lost.push(fill(c < 0 ? words.notAsked : words.notOffered, { name, ask, what }));
  }
  return found;
}

function pickFrom(kept, piece, choices, words, lost) {
  const { usual, quantity, least, most, optional } = piece;
  const { name, count, out } = kept;
  const answers = answersFrom(kept, usual, choices, words, lost);
  const now = count === null ? quantity : Math.min(most, Math.max(least, count));
  if (count !== null && now !== count) lost.push(fill(words.notCount, { name, n: count, now }));
  if (out && !optional) lost.push(fill(words.notOut, { name }));
  return { answers, quantity: now, out: out && optional };
}

/** What was kept, on the page as it is now: picks, notes, and sentences on what no longer fits. */
export function broughtBack(data, { pieces, charges, note }) {
  const { table, words } = data;
  const lost = [];
  const kept = new Map(pieces);
  const picks = table.pieces.map((piece, i) =>
    kept.has(piece.id)
      ? pickFrom(kept.get(piece.id), piece, data.pieces[i].choices, words, lost)
      : { answers: piece.usual, quantity: piece.quantity, out: false },
  );
  const notes = [...table.pieces.map(({ id }) => kept.get(id)?.note ?? ""), note];
  const known = new Set(table.pieces.map(({ id }) => id));
  for (const [id, one] of pieces)
    if (!known.has(id)) lost.push(fill(words.gone, { name: one.name, what: wordsOf(one, words) }));
  const added = charges.flatMap(([id, what]) => {
    const i = table.charges.findIndex((charge) => charge.id === id && charge.optional);
    if (i < 0) lost.push(fill(words.notAdded, { what }));
    return i < 0 ? [] : [i];
  });
  return { picks: { pieces: picks, charges: added }, notes, lost };
}
