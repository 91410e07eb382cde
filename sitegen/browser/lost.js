// The page of a host that says "not found". A link whose # was escaped on its way ends here; it still
// opens, but its key came in the path and was written down by the host, so that is said first.

import { recoveredPath } from "./recovered.js";
import { showState } from "./states.js";

const wayBack = recoveredPath(location.pathname);
if (wayBack) {
  showState("exposed");
  document.getElementById("go").addEventListener("click", () => location.replace(wayBack));
}
