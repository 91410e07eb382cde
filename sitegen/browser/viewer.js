// One picture after another over the whole page: by tap, by swipe, by keys. The picture itself is taken out of
// the page and put back, not copied: a sealed one has no address from which it could be loaded again.

const SWIPE = 48;

/** Let the pictures in a node be looked at, in the node's own dialog. */
export function startViewer(node) {
  const viewer = node.querySelector(".viewer");
  const frame = viewer.querySelector(".frame");
  const said = viewer.querySelector("output");
  const places = [...node.querySelectorAll(".enlarge")];
  let at = 0;
  let picture = null;
  let room = null;
  let from = null;

  function putBack() {
    if (picture) room.replaceWith(picture);
    picture = null;
  }

  function show(next) {
    putBack();
    at = (next + places.length) % places.length;
    picture = places[at].querySelector("picture");
    room = document.createElement("span");
    room.className = "room";
    room.style.blockSize = `${picture.offsetHeight}px`;
    picture.replaceWith(room);
    for (const source of picture.querySelectorAll("source")) source.sizes = "100vw";
    frame.replaceChildren(picture);
    said.textContent = said.dataset.said.replace("{n}", at + 1).replace("{of}", places.length);
  }

  const forward = () => (getComputedStyle(viewer).direction === "rtl" ? -1 : 1);
  node.addEventListener("click", (event) => {
    const place = event.target.closest(".enlarge");
    if (!place || event.metaKey || event.ctrlKey) return;
    event.preventDefault();
    show(places.indexOf(place));
    viewer.showModal();
  });
  viewer.addEventListener("click", ({ target }) => {
    const turn = target.closest("[data-turn]");
    if (turn) show(at + Number(turn.dataset.turn));
    else if (target.closest("[data-close]")) viewer.close();
  });
  viewer.addEventListener("keydown", ({ key }) => {
    if (key === "ArrowRight") show(at + forward());
    if (key === "ArrowLeft") show(at - forward());
  });
  // A mouse would drag the picture away.
  frame.addEventListener("dragstart", (event) => event.preventDefault());
  frame.addEventListener("pointerdown", ({ clientX }) => (from = clientX));
  frame.addEventListener("pointerup", ({ clientX }) => {
    const moved = from === null ? 0 : clientX - from;
    from = null;
    if (Math.abs(moved) > SWIPE) show(at + (moved < 0 ? forward() : -forward()));
  });
  viewer.addEventListener("close", putBack);
}
