// The message with which a couple send their choices: words, not prices, are what counts in it, and where the
// page can make one, a code. Pure: data in, text out.

import { isNote } from "./notes.js";
import { change, exact, fill, noteLine } from "./text.js";

// Mail programs cut or refuse longer links: the least of the published limits is about 2,000 characters.
const MOST_IN_LINK = 1800;

/** What of a piece differs from what was suggested, in words; nothing where nothing does. */
export function differing(data, pick, i) {
  const { words, table } = data;
  const { usual, quantity } = table.pieces[i];
  if (pick.out) return [words.out];
  const said = pick.answers.flatMap((a, c) => {
    const labels = data.pieces[i].labels[c];
    return a === usual[c] ? [] : [fill(words.instead, { now: labels[a], usual: labels[usual[c]] })];
  });
  if (pick.quantity !== quantity) said.push(fill(words.instead, { now: pick.quantity, usual: quantity }));
  return said;
}

const signed = (units, money) => (units ? ` (${change(units, money)})` : "");

/** The choices in words, a line each, with the total they come to. */
export function summaryOf(data, picks, now, atFirst) {
  const { words, money } = data;
  const lines = data.pieces.flatMap(({ name }, i) => {
    const said = differing(data, picks.pieces[i], i);
    return said.length ? [`- ${name}: ${said.join("; ")}${signed(now.lines[i] - atFirst.lines[i], money)}`] : [];
  });
  for (const i of picks.charges) lines.push(`- ${data.charges[i]}: ${words.added}${signed(now.charges[i], money)}`);
  const rest = lines.length ? words.rest : words.all;
  return [`${words.ours}: ${data.title}`, "", ...lines, rest, fill(words.sum, { price: exact(now.total, money) })].join("\n");
}

/** Notes with the number of their piece, in the order of the proposal; a general one comes after all pieces. */
export const numbered = (notes) =>
  notes.flatMap((note, i) => (isNote(note) ? [[i + 1, note.trim().replace(/\s+/g, " ")]] : []));

/** All notes as they stand in a message; each after the name of its piece. */
export function notesText(data, notes) {
  const lines = numbered(notes).map(([n, text]) => {
    const name = data.pieces[n - 1]?.name;
    return name ? `${name}\n${noteLine(n, text)}` : noteLine(n, text);
  });
  return lines.length ? [data.words.notes, ...lines].join("\n") : "";
}

const paragraphs = (...parts) => parts.filter(Boolean).join("\n\n");
const codeText = (code, words) => code && `${words.leave}\n${code}`;

export const wholeMessage = ({ summary, notes, code }, words) => paragraphs(summary, notes, codeText(code, words));

// A half of a letter beyond 16 bits can be typed, and no address may hold it.
const encoded = (text) => encodeURIComponent(text.replace(/\p{Cs}/gu, "\ufffd").replace(/\n/g, "\r\n"));

/**
 * A link that opens a mail with the message. Where it grows too long the summary is left out first, then the
 * notes, never the code; `short` tells so, and the mail then asks for the rest to be pasted.
 */
export function mailLink(mail, { summary, notes, code }, words) {
  const line = codeText(code, words);
  const less = code ? [[notes], []] : [[]];
  const bodies = [paragraphs(summary, notes, line), ...less.map((parts) => paragraphs(...parts, line, words.paste))];
  const links = bodies.map((body) => `mailto:${mail}?subject=${encoded(words.subject)}&body=${encoded(body)}`);
  const at = links.findIndex((link) => link.length <= MOST_IN_LINK);
  return { href: links.at(at), short: at !== 0 };
}
