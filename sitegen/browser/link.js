// The private link, read again after mail and messengers have been at it; the same as seal/link.py,
// text for text. Pure but for SHA-256, which browsers give only to pages that came by https.

const SYMBOLS = "0123456789abcdefghjkmnpqrstvwxyz";
const LINK_VERSION = "1";
const FRAGMENT = 32;
const MOST_TEXT = 4096;
const MOST_KEYS = 16;

/** Bytes in Crockford's base 32, small letters. */
export const toSymbols = (bytes) => {
  const bits = Array.from(bytes, (byte) => byte.toString(2).padStart(8, "0")).join("");
  return (bits.match(/.{1,5}/g) ?? []).map((five) => SYMBOLS[parseInt(five.padEnd(5, "0"), 2)]).join("");
};

/** Whole bytes from folded symbols; null for any other text, also where spare bits are not nought. */
export const fromSymbols = (text) => {
  const spare = (text.length * 5) % 8;
  const values = Array.from(text, (symbol) => SYMBOLS.indexOf(symbol));
  if (spare >= 5 || values.includes(-1)) return null;
  const bits = values.map((value) => value.toString(2).padStart(5, "0")).join("");
  if (bits.slice(bits.length - spare).includes("1")) return null;
  return Uint8Array.from(bits.match(/.{8}/g) ?? [], (byte) => parseInt(byte, 2));
};

export const folded = (text) =>
  text.replace(/[A-Z]/g, (letter) => letter.toLowerCase()).replaceAll("o", "0").replace(/[il]/g, "1");

/** ASCII alone, bounded, with escapes undone; three times, for rewriters that escape what was escaped. */
const plainText = (text) => {
  let plain = text
    .replace(/[\u00ad\u200b-\u200f\u2060\ufeff]/g, "")
    .replace(/[^\x00-\x7f]/gu, " ")
    .slice(0, MOST_TEXT);
  for (let pass = 0; pass < 3; pass += 1)
    plain = plain.replace(/%([0-7][0-9A-Fa-f])/g, (_, code) => String.fromCharCode(parseInt(code, 16)));
  return plain;
};

const folderIn = (address) =>
  Array.from(address.matchAll(/\/([0-9A-Za-z]{26})(?![0-9A-Za-z])/g), ([, name]) => fromSymbols(folded(name)))
    .filter(Boolean)
    .at(-1) ?? null;

const checkOf = async (start, pid, secret) => {
  const label = new TextEncoder().encode(`sitegen/1/link${start}`);
  const digest = await crypto.subtle.digest("SHA-256", new Uint8Array([...label, ...pid, ...secret]));
  return toSymbols(new Uint8Array(digest, 0, 3)).slice(0, 4);
};

const readKey = async (text, pid) => {
  const run = /^[0-9a-hjkmnp-tv-z]*/.exec(folded(text.slice(0, FRAGMENT)))[0];
  // An address may end in the name of a place on its page; a key of ours begins like this.
  if (!/^[cv]([1-9]|$)/.test(run)) return { fault: run.length === FRAGMENT ? "changed link" : "no key" };
  if (run.length < FRAGMENT || !pid) return { fault: "cut link" };
  const secret = fromSymbols(run.slice(2, 28));
  if (!secret || (await checkOf(run.slice(0, 2), pid, secret)) !== run.slice(28)) return { fault: "changed link" };
  return run[1] === LINK_VERSION ? { kind: run[0], pid, secret } : { fault: "newer link" };
};

/** Every reading of a text: what follows each #, or the whole text where there is none. */
const readings = (text, pid) => {
  const keys = Array.from(text.matchAll(/#/g), ({ index }) => index).slice(0, MOST_KEYS);
  if (keys.length) return keys.map((at) => [text.slice(at + 1), folderIn(text.slice(0, at)) ?? pid]);
  const bare = /^[^0-9A-Za-z]*([cCvV][1-9iIlL][^]*)/.exec(text);
  return bare ? [[bare[1], pid]] : [];
};

/**
 * The link in a text: an address, a mail that holds one, or its 32 symbols alone. pid is the folder
 * where it is read, for a text without one.
 *
 * Gives { kind: "c" | "v", pid, secret }, or { fault: "no key" | "cut link" | "changed link" |
 * "newer link" }; "unavailable" where the browser gives no cryptography to this page.
 */
export const readLink = async (text, pid = null) => {
  const plain = plainText(text);
  const joined = plain.replace(/=?[ \t\r\n\f\v]+[> \t\r\n\f\v]*/g, "");
  const found = [];
  try {
    for (const [key, folder] of [...readings(plain, pid), ...readings(joined, pid)])
      found.push(await readKey(key, folder));
  } catch {
    return { fault: "unavailable" };
  }
  const close = found.find(({ fault }) => fault && fault !== "no key");
  return found.find(({ fault }) => !fault) ?? close ?? { fault: "no key" };
};

/** The 32 symbols behind # of a link. */
export const fragmentOf = async ({ kind, pid, secret }) => {
  const start = kind + LINK_VERSION;
  return start + toSymbols(secret) + (await checkOf(start, pid, secret));
};
