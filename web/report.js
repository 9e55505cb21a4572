// Paper has no folds: open them for printing, then leave them as they were.
addEventListener("beforeprint", () => {
  for (const fold of document.querySelectorAll("details:not([open])")) { fold.open = true; fold.dataset.folded = ""; }
});
addEventListener("afterprint", () => {
  for (const fold of document.querySelectorAll("details[data-folded]")) { fold.open = false; delete fold.dataset.folded; }
});
