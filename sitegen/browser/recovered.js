// The way back for a reader whose link was damaged on its way: pure, text in, text out.

import { folded } from "./link.js";

/**
 * For the page of a host that says "not found": a link whose # was escaped, so that its key came in the
 * path, which every server writes down. Gives the path to go to, always of this same host, or null.
 */
export const recoveredPath = (path) => {
  const found =
    /^((?:\/[0-9A-Za-z._~-]+)*\/[0-9A-Za-z]{26})\/?(?:index\.html)?%(?:25)*23([0-9A-Ta-tV-Zv-z]{32})/.exec(path);
  return found && `${found[1]}/#${folded(found[2])}`;
};
