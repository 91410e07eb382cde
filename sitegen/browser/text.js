// Amounts and counts as text, letter for letter as the page was built: the record of the money's
// format and all words come with the page. Pure; nothing here touches the page.

/** Fill a sentence's {names}. */
export function fill(sentence, values) {
  return sentence.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? values[name] : whole));
}

// Rules of a language are dear to make, and a tap asks for them many times.
const rules = new Map();

/** Choose between two forms of a sentence as the language does, and fill in {n}. */
export function plural(forms, n, language) {
  if (!rules.has(language)) rules.set(language, new Intl.PluralRules(language));
  const one = rules.get(language).select(n) === "one";
  return fill(forms[one ? 0 : 1], { n });
}

function grouped(whole, format) {
  if (whole.length < format.grouped_from) return whole;
  const [first, then] = format.sizes;
  const parts = [whole.slice(-first)];
  for (let rest = whole.slice(0, -first); rest; rest = rest.slice(0, -then)) parts.unshift(rest.slice(-then));
  return parts.join(format.group);
}

function around(units, positive, format, brief) {
  const [before, after] = units < 0 ? format.minus : positive;
  const digits = String(Math.abs(units)).padStart(format.digits + 1, "0");
  const whole = digits.slice(0, digits.length - format.digits);
  const rest = digits.slice(digits.length - format.digits);
  const tail = brief && !/[1-9]/.test(rest) ? "" : rest && format.decimal + rest;
  return before + grouped(whole, format) + tail + after;
}

/** An amount with all its digits: $1,234.50 */
export const exact = (units, format) => around(units, format.plain, format, false);

/** An amount, without decimals where it is whole: $118 */
export const brief = (units, format) => around(units, format.plain, format, true);

/** A difference with its sign: +$31 */
export const change = (units, format) => around(units, format.plus, format, true);

/** A note as it stands in a message, where it is found again; piece is its place in the proposal, from 1. */
export const noteLine = (piece, text) => `[${piece}: ${text} :${piece}]`;
