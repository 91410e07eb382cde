// Sealed photos: fetched and opened as they come into view. The page's images name theirs in data-photo
// and have no address of their own.

import { openPhoto } from "./open.js";

const closedPhotos = new Set();
const onTheWay = new Set();
let proposal;
let blobFolder;

/** Take over the images in a node; the first of the page comes at once, the others with the reader. */
export function takePhotos(node, found, folder) {
  proposal = found;
  blobFolder = folder;
  for (const image of node.querySelectorAll("img[data-photo]")) {
    closedPhotos.add(image);
    const first = image.getAttribute("fetchpriority") === "high";
    const room = keepRoom(image);
    if (first) bringPhoto(image);
    else room.then(() => inView.observe(image));
  }
}

/** Whether some have not been asked for yet. */
export const photosWaiting = () => closedPhotos.size + onTheWay.size > 0;

/** Bring all that are still closed, and wait for those on their way. */
export async function loadPhotos() {
  closedPhotos.forEach(bringPhoto);
  await Promise.all(onTheWay);
}

const inView = new IntersectionObserver(
  (seen) => {
    for (const { isIntersecting, target } of seen) if (isIntersecting) bringPhoto(target);
  },
  { rootMargin: "100% 0px" },
);

/** Give an image an address, which lives until it is loaded. */
async function putPicture(image, content) {
  const address = URL.createObjectURL(content);
  await new Promise((done) => {
    image.addEventListener("load", done, { once: true });
    image.addEventListener("error", done, { once: true });
    image.src = address;
  });
  URL.revokeObjectURL(address);
}

/** Until its photo is here, an image holds an empty drawing of the same size, so that nothing moves later. */
function keepRoom(image) {
  const size = `width="${image.getAttribute("width")}" height="${image.getAttribute("height")}"`;
  const drawing = `<svg xmlns="http://www.w3.org/2000/svg" ${size}/>`;
  return putPicture(image, new Blob([drawing], { type: "image/svg+xml" }));
}

function bringPhoto(image) {
  if (!closedPhotos.delete(image)) return;
  inView.unobserve(image);
  const shown = showPhoto(image);
  onTheWay.add(shown);
  shown.finally(() => onTheWay.delete(shown));
}

async function showPhoto(image) {
  const content = await openedPhoto(image.dataset.photo);
  if (!content) {
    image.replaceWith(document.getElementById("no-photo").content.cloneNode(true));
    return;
  }
  await putPicture(image, content);
  image.removeAttribute("data-photo");
}

async function openedPhoto(place) {
  const entry = proposal.photos[place];
  try {
    const answer = await fetch(blobFolder + entry.file, { credentials: "omit", referrerPolicy: "no-referrer" });
    if (!answer.ok) return null;
    const bytes = new Uint8Array(await answer.arrayBuffer());
    const { failure, content } = await openPhoto(proposal.keys, place, entry, bytes);
    return failure ? null : new Blob([content], { type: entry.kind });
  } catch {
    return null;
  }
}
