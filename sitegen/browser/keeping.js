// Keeps texts between visits for a page that only its link opens: behind a key and under names that come
// from the link, so that whoever looks into this browser's store finds neither whose they are nor what they say.

import { joinedBytes } from "./envelope.js";
import { fromSymbols, toSymbols } from "./link.js";
import { hkdf, unlocked } from "./open.js";

const IV = 12;
const asBytes = (text) => new TextEncoder().encode(text);

async function storeName(local, name) {
  return `sitegen ${toSymbols(await hkdf(local, asBytes("name"), asBytes(`sitegen/1/kept ${name}`), 16))}`;
}

const storeKey = (local) => hkdf(local, asBytes("key"), asBytes("sitegen/1/kept"));

/** A keeper for the key local of an opened page. Whatever the browser refuses is nothing kept, and no failure. */
export const sealedKeeper = (local) => ({
  async load(name) {
    try {
      const found = fromSymbols(localStorage.getItem(await storeName(local, name)) ?? "");
      if (!found?.length) return null;
      const plain = await unlocked(await storeKey(local), found.subarray(0, IV), found.subarray(IV), asBytes(name));
      return plain && new TextDecoder().decode(plain);
    } catch {
      return null;
    }
  },
  async save(name, text) {
    try {
      const key = await crypto.subtle.importKey("raw", await storeKey(local), "AES-GCM", false, ["encrypt"]);
      const iv = crypto.getRandomValues(new Uint8Array(IV));
      const how = { name: "AES-GCM", iv, additionalData: asBytes(name), tagLength: 128 };
      const locked = new Uint8Array(await crypto.subtle.encrypt(how, key, asBytes(text)));
      localStorage.setItem(await storeName(local, name), toSymbols(joinedBytes(iv, locked)));
      return true;
    } catch {
      return false;
    }
  },
});
