// The start of a page that carries everything in itself, with its data in the element "figures".

import { startChoosing } from "./choose.js";
import { startViewer } from "./viewer.js";

/** Keeps texts in this browser, open to whoever uses it; a browser that keeps nothing is no failure. */
const thisBrowser = {
  load(name) {
    try {
      return localStorage.getItem(`sitegen ${name}`);
    } catch {
      return null;
    }
  },
  save(name, text) {
    try {
      localStorage.setItem(`sitegen ${name}`, text);
      return true;
    } catch {
      return false;
    }
  },
};

startChoosing(document.getElementById("figures").textContent, { keeper: thisBrowser });
startViewer(document.body);
