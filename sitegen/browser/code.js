import { toSymbols } from "./link.js";
// The code in a couple's message, byte for byte as reply/code.py writes it. Pure but for SHA-256 and HMAC,
// which browsers give only to pages that came by https.

const SIZE_OF_HEAD = [1n << 16n, 1n << 16n, 1n << 8n, 1n << 32n, 1n << 40n];
const PROOF = 16;
const MOST_IN_CODE = 1023;

const bytesOf = (text) => new TextEncoder().encode(text);
const together = (...parts) => Uint8Array.from(parts.flatMap((part) => Array.from(part)));
const sha256 = async (bytes) => new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));

/** Every digit with its radix: answers and count of each piece, then the optional charges. */
const digitsOf = (table, picks) => [
  ...table.pieces.flatMap(({ answers, least, most, optional }, i) => {
    const { answers: picked, quantity, out } = picks.pieces[i];
    const more = Number(optional);
    return [...answers.map((n, c) => [picked[c], n]), [out ? 0 : quantity - least + more, most - least + 1 + more]];
  }),
  ...table.charges.flatMap(({ optional }, i) => (optional ? [[Number(picks.charges.includes(i)), 2]] : [])),
];

/** One number of digits, the first the least, in as many bytes as the largest such number takes. */
const numberOf = (digits) => {
  const most = digits.reduce((product, [, radix]) => product * BigInt(radix), 1n) - 1n;
  const number = digits.reduceRight((all, [digit, radix]) => all * BigInt(radix) + BigInt(digit), 0n);
  const width = most ? Math.ceil(most.toString(16).length / 2) : 0;
  const hex = width ? number.toString(16).padStart(2 * width, "0") : "";
  return Uint8Array.from(hex.match(/../g) ?? [], (pair) => parseInt(pair, 16));
};

const lettersIn = (text) => text.normalize("NFKC").replace(/[^\p{L}\p{M}\p{N}]/gu, "");

/** 32 bits for notes [[piece, text]] in the order of the proposal; 0 where there are none. */
export const notesDigest = async (notes) => {
  if (!notes.length) return 0;
  const said = notes.map(([piece, text]) => `${piece} ${lettersIn(text)}\n`).join("");
  return new DataView((await sha256(bytesOf(`sitegen/1/reply notes\n${said}`))).buffer).getUint32(0);
};

/**
 * The line for a message. key and pid are bytes of the opened link; said is { revision, phone, turn, notes,
 * total, picks }: phone a mark below 65536 that this browser keeps, turn the count of its replies below 256,
 * notes the digest of all notes, total what the page shows. Null for a proposal that no code can hold.
 */
export const replyCode = async (key, pid, table, { revision, phone, turn, notes, total, picks }) => {
  const head = [revision, phone, turn, notes, BigInt(total) % SIZE_OF_HEAD[4]].map((n, i) => [n, SIZE_OF_HEAD[i]]);
  const number = numberOf([...head, ...digitsOf(table, picks)]);
  const how = { name: "HMAC", hash: "SHA-256" };
  const signing = await crypto.subtle.importKey("raw", key, how, false, ["sign"]);
  const message = together(bytesOf("sitegen/1/reply code"), pid, number);
  const proof = new Uint8Array(await crypto.subtle.sign("HMAC", signing, message)).subarray(0, PROOF);
  const data = together(pid.subarray(0, 4), number, proof);
  if (data.length + 3 > MOST_IN_CODE) return null;
  const counted = [data.length >> 8, data.length & 255];
  const sum = (await sha256(together(bytesOf("sitegen/1/reply sum"), counted, data))).subarray(0, 3);
  const whole = together(data, sum);
  const length = [whole.length >> 5, whole.length & 31].map((five) => toSymbols([five << 3])[0]).join("");
  const groups = (length + toSymbols(whole)).toUpperCase().match(/.{1,5}/g);
  return ["TRUG1", ...groups, "BUD"].join("-");
};
