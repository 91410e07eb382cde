// The start of a page that carries everything in itself, with its data in the element "figures".

import { startChoosing } from "./choose.js";
import { thisBrowser } from "./keep.js";
import { startViewer } from "./viewer.js";

startChoosing(document.getElementById("figures").textContent, { keeper: thisBrowser });
startViewer(document.body);
