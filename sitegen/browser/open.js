import { ROLES, counted, headerOf, joinedBytes, parted, readCover, unpadded } from "./envelope.js";
import { toSymbols } from "./link.js";
// Opens a sealed proposal with the browser's own cryptography; the same as seal/lock.py and
// seal/opening.py. Nothing here touches the page, and nothing fails by an exception.
//
// A failure is { failure: kind }: foreign, newer, cut, damaged, too large, weak, no phrase,
// wrong phrase, other key; and "unavailable" where the browser itself refused: never a wrong phrase.

const utf8 = (text) => new TextEncoder().encode(text);
const labelOf = (suite, name) => utf8(`sitegen/${suite}/${name}`);
const NONCE = new Uint8Array(12); // each key seals one object only

/** Whether this browser gives this page any cryptography; not so without https. */
export const canOpen = () => Boolean(globalThis.crypto?.subtle);

/** HKDF with SHA-256, RFC 5869. */
export const hkdf = async (secret, salt, info, length = 32) => {
  const key = secret instanceof Uint8Array ? await hkdfKey(secret) : secret;
  const how = { name: "HKDF", hash: "SHA-256", salt, info };
  return new Uint8Array(await crypto.subtle.deriveBits(how, key, length * 8));
};

const hkdfKey = (secret) => crypto.subtle.importKey("raw", secret, "HKDF", false, ["deriveBits"]);

/** A phrase in the one way that counts: NFKC, single spaces, small letters. */
export const normalPhrase = (phrase) =>
  phrase
    .replace(/[\u00ad\u200b-\u200f\u2060\ufeff]/g, "")
    .normalize("NFKC")
    .replace(/[\x00-\x20\x7f-\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+/g, " ")
    .replace(/^ | $/g, "")
    .toLowerCase();

/** PBKDF2 with HMAC-SHA-256, RFC 8018: 32 bytes. */
export const stretched = async (bytes, salt, rounds) => {
  const key = await crypto.subtle.importKey("raw", bytes, "PBKDF2", false, ["deriveBits"]);
  const how = { name: "PBKDF2", hash: "SHA-256", salt, iterations: rounds };
  return new Uint8Array(await crypto.subtle.deriveBits(how, key, 256));
};

/** The secret of the link that only views, from that of the link that may choose. */
export const viewSecret = ({ kind, pid, secret }) =>
  kind === "v" ? Promise.resolve(secret) : hkdf(secret, pid, utf8("sitegen/1/view"), 16);

/** All keys of a link; reply is null for one that only views. local and reply are bytes. */
export const deriveKeys = async (link, phraseKey = new Uint8Array(0)) => {
  const suite = phraseKey.length ? 2 : 1;
  const view = await viewSecret(link);
  const secret = await hkdfKey(joinedBytes(view, phraseKey));
  const [siv, enc, local] = await Promise.all(
    ["siv", "enc", "local"].map((name) => hkdf(secret, link.pid, labelOf(suite, name))),
  );
  const signing = link.kind === "c" && joinedBytes(link.secret, phraseKey);
  return {
    suite,
    view,
    siv: await crypto.subtle.importKey("raw", siv, { name: "HMAC", hash: "SHA-256" }, false, ["verify"]),
    enc: await hkdfKey(enc),
    local,
    reply: signing ? await hkdf(signing, link.pid, labelOf(suite, "reply")) : null,
  };
};

/** AES-256-GCM undone; null where any bit differs. What else the browser refuses is thrown. */
export const unlocked = async (rawKey, nonce, locked, beside) => {
  const key = await crypto.subtle.importKey("raw", rawKey, "AES-GCM", false, ["decrypt"]);
  const how = { name: "AES-GCM", iv: nonce, additionalData: beside, tagLength: 128 };
  try {
    return new Uint8Array(await crypto.subtle.decrypt(how, key, locked));
  } catch (refused) {
    if (refused?.name === "OperationError") return null;
    throw refused;
  }
};

/** What was sealed with these keys, in this role, for this place: { plain } as it was, still padded. */
export const openSealed = async (keys, role, place, bytes) => {
  const parts = parted(bytes);
  if (parts.failure) return parts;
  // What is expected here, not what the object says of itself, is what must have been authenticated.
  const head = headerOf(keys.suite, role);
  const name = counted(place);
  const once = await hkdf(keys.enc, parts.digest, labelOf(keys.suite, "file"));
  const plain = await unlocked(once, NONCE, parts.locked, joinedBytes(head, parts.digest, name));
  // The digest ties the object to these keys, which GCM alone does not.
  const same = plain && (await crypto.subtle.verify("HMAC", keys.siv, parts.digest, joinedBytes(head, name, plain)));
  return same ? { plain } : { failure: "damaged" };
};

const contentOf = async (keys, role, place, bytes) => {
  const { failure, plain } = await openSealed(keys, role, place, bytes);
  return failure ? { failure } : unpadded(plain, role);
};

const guarded = async (work) => {
  try {
    return await work();
  } catch {
    return { failure: "unavailable" };
  }
};

const keysFor = async (stretch, link, phrase) => {
  if (!stretch) return deriveKeys(link);
  const words = normalPhrase(phrase);
  return words
    ? deriveKeys(link, await stretched(utf8(words), stretch.salt, stretch.rounds))
    : { failure: "no phrase" };
};

const readManifest = (keys, content) => {
  try {
    const { revision, built, texts, photos } = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(content));
    const entries = Object.entries(photos).map(([place, [file, length, digest, kind]]) => [
      place,
      { file, length, digest, kind },
    ]);
    return { keys, revision, built, texts, photos: Object.fromEntries(entries) };
  } catch {
    return { failure: "newer" };
  }
};

/**
 * Open the text that a page carries with a link as readLink gives it.
 *
 * Gives { keys, revision, built, texts, photos: { place: { file, length, digest, kind } } }, or a failure.
 */
export const openPage = (text, link, phrase = "") =>
  guarded(async () => {
    const { failure, stretch, sealed } = await readCover(text);
    if (failure) return { failure };
    const keys = await keysFor(stretch, link, phrase);
    if (keys.failure) return keys;
    const found = await contentOf(keys, ROLES.manifest, "manifest", sealed);
    // The cover's sum fits, so nothing happened to these bytes by accident.
    if (found.failure === "damaged") return { failure: stretch ? "wrong phrase" : "other key" };
    return found.failure ? found : readManifest(keys, found.content);
  });

/** Open a photo's file, as bytes, at its place in photos: { content }, or a failure. */
export const openPhoto = (keys, place, entry, bytes) =>
  guarded(async () => {
    if (!(bytes[0] === 0x53 && bytes[1] === 0x47 && bytes[2] === 0x53 && bytes[3] === 0x31))
      return { failure: "foreign" };
    if (bytes.length !== entry.length) return { failure: bytes.length < entry.length ? "cut" : "damaged" };
    if (toSymbols(bytes.subarray(8, 40)) !== entry.digest) return { failure: "damaged" };
    return contentOf(keys, ROLES.photo, `photo/${place}`, bytes);
  });
