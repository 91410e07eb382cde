// The bytes of what is sealed: layout, limits, canonical reading; the same as seal/envelope.py and
// seal/cover.py. Nothing is decrypted here, and no failure is an exception: { failure: kind }.

const HEADER = 8;
const DIGEST = 32;
const OVERHEAD = HEADER + DIGEST + 16;
const SUITES = [1, 2];

/** What is sealed, its most bytes, and the blocks that it is filled up to. */
export const ROLES = {
  manifest: { byte: 1, most: 1 << 20, block: 4096 },
  photo: { byte: 2, most: 4 << 20, block: 1024 },
};
const LEAST_ROUNDS = 600000;
const MOST_ROUNDS = 5000000;
const MOST_COVER = HEADER + 20 + OVERHEAD + ROLES.manifest.most + 4;

const beginsWith = (bytes, text) => Array.from(text).every((letter, at) => bytes[at] === letter.charCodeAt(0));
const failed = (failure) => ({ failure });
const numberAt = (bytes, at) => new DataView(bytes.buffer, bytes.byteOffset).getUint32(at);

export const joinedBytes = (...parts) => {
  const all = new Uint8Array(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
};

/** The first eight bytes of a sealed object. */
export const headerOf = (suite, role) => Uint8Array.of(0x53, 0x47, 0x53, 0x31, suite, role.byte, 0, 0);

/** A sealed object taken apart: { suite, role, digest, locked }; role is the byte. */
export const parted = (bytes) => {
  if (!beginsWith(bytes, "SGS")) return failed("foreign");
  if (bytes.length < OVERHEAD) return failed("cut");
  if (!beginsWith(bytes, "SGS1") || !SUITES.includes(bytes[4])) return failed("newer");
  const role = Object.values(ROLES).find(({ byte }) => byte === bytes[5]);
  if (!role || bytes[6] || bytes[7]) return failed("damaged");
  if (bytes.length > OVERHEAD + role.most) return failed("too large");
  const locked = bytes.subarray(HEADER + DIGEST);
  return { suite: bytes[4], role: role.byte, digest: bytes.subarray(HEADER, HEADER + DIGEST), locked };
};

/** The content of what was opened: { content }, or damaged for anything that sealing does not make. */
export const unpadded = (plain, role) => {
  if (plain.length < 4) return failed("damaged");
  const end = 4 + numberAt(plain, 0);
  const whole = Math.ceil(end / role.block) * role.block;
  if (plain.length !== whole || plain.subarray(end).some(Boolean)) return failed("damaged");
  return { content: plain.subarray(4, end) };
};

/** Text behind its length in two bytes. */
export const counted = (text) => {
  const bytes = new TextEncoder().encode(text);
  return joinedBytes(Uint8Array.of(bytes.length >> 8, bytes.length & 255), bytes);
};

const fromBase64 = (text) => {
  if (text.length > Math.ceil(MOST_COVER / 3) * 4) return failed("too large");
  // atob skips blanks and takes texts without their end; only the one canonical spelling is ours.
  if (text.length % 4 || !/^[0-9A-Za-z+/]*={0,2}$/.test(text)) return failed(text.startsWith("U0dQ") ? "cut" : "foreign");
  const letters = atob(text);
  const bytes = new Uint8Array(letters.length);
  for (let at = 0; at < letters.length; at += 1) bytes[at] = letters.charCodeAt(at);
  if (bytes.length < HEADER + OVERHEAD + 4) return failed(beginsWith(bytes, "SGP") ? "cut" : "foreign");
  return btoa(letters) === text ? { bytes } : failed("damaged");
};

/** The text that a page carries: { stretch: { salt, rounds } or null, sealed }. */
export const readCover = async (text) => {
  const { failure, bytes } = fromBase64(text.replace(/^[ \t\r\n]+|[ \t\r\n]+$/g, ""));
  if (failure) return failed(failure);
  if (!beginsWith(bytes, "SGP")) return failed("foreign");
  const body = bytes.subarray(0, -4);
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  if (bytes.subarray(-4).some((byte, at) => byte !== digest[at])) return failed("damaged");
  if (!beginsWith(body, "SGP1") || !SUITES.includes(body[4])) return failed("newer");
  if (body[5] || body[6] || body[7]) return failed("damaged");
  if (body[4] === 1) return { stretch: null, sealed: body.subarray(HEADER) };
  const rounds = numberAt(body, HEADER + 16);
  if (rounds < LEAST_ROUNDS || rounds > MOST_ROUNDS) return failed("weak");
  return { stretch: { salt: body.subarray(HEADER, HEADER + 16), rounds }, sealed: body.subarray(HEADER + 20) };
};
