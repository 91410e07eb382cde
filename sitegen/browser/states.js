// Which of a page's parts are shown: each names its states in data-states. Every state has a sentence and
// a way out in the page itself, so that no word stands in a script.

/** Show what belongs to the state, and nothing else; words of a name may have blanks between them. */
export const showState = (state) => {
  const name = state.replaceAll(" ", "-");
  for (const part of document.querySelectorAll("[data-states]"))
    part.hidden = !part.dataset.states.split(" ").includes(name);
};
