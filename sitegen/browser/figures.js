// The figures that stand in the page, found once. An element that shows one names it in data-figure: the key of
// what it belongs to ("piece-2", or "piece-2-1-3" for the third answer to its first choice), then what it is.

const figures = new Map();

/** Find all of them. */
export function gatherFigures() {
  for (const element of document.querySelectorAll("[data-figure]")) {
    const name = element.dataset.figure;
    const shown = figures.get(name) ?? { elements: [] };
    shown.elements.push(element);
    figures.set(name, shown);
  }
}

/** Write a figure wherever it stands. A tap may change hundreds: a text that is there is changed, not made anew. */
export function write(name, text) {
  const shown = figures.get(name);
  if (!shown || shown.text === text) return;
  shown.text = text;
  for (const element of shown.elements) {
    if (text && element.firstChild) element.firstChild.data = text;
    else element.textContent = text;
  }
}
