// Paper has no folds: open them for printing, then leave them as they were. Framing elevations
// and what passes take many pages: they are printed only where the reader has opened them.
addEventListener("beforeprint", () => {
  for (const fold of document.querySelectorAll("details:not([open], .sheet, .passing)")) { fold.open = true; fold.dataset.folded = ""; }
});
addEventListener("afterprint", () => {
  for (const fold of document.querySelectorAll("details[data-folded]")) { fold.open = false; delete fold.dataset.folded; }
});
