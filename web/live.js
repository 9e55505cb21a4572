// Fills the page from the server's events (docs/live.md). Shows complete generations only: until the steady
// figures of a new one are all there, the old page stays. Computes nothing but colours from palette indices.
(() => {
  "use strict";
  const colours = JSON.parse(document.getElementById("viridis").textContent)
    .match(/.{6}/g).map((hex) => [0, 2, 4].map((at) => parseInt(hex.slice(at, at + 2), 16)));
  const main = document.querySelector("main");
  const status = document.getElementById("status");
  const problem = document.getElementById("problem");
  let shown = -1;        // generation on the page
  let newest = -1;       // generation last announced
  let waiting = [];      // columns of `newest` that came before its steady figures
  let left = 0;

  const say = (text) => { if (status.textContent !== text) status.textContent = text; };

  function replace(html) {
    const open = [...main.querySelectorAll("details[open][id]")].map((fold) => fold.id);
    main.innerHTML = html;
    for (const id of open) { const fold = document.getElementById(id); if (fold) fold.open = true; }
  }

  function fill(cells) {
    for (const [id, html] of Object.entries(cells)) { const cell = document.getElementById(id); if (cell) cell.innerHTML = html; }
  }

  // A framing elevation is drawn by the program when its fold is opened, of the frame that the page shows.
  main.addEventListener("toggle", async ({ target }) => {
    if (!target.open || !target.dataset.picture || target.dataset.asked) return;
    target.dataset.asked = "yes";
    const place = target.querySelector(":scope > div") ?? target.appendChild(document.createElement("div"));
    place.textContent = "drawing";
    try {
      const answer = await fetch(target.dataset.picture);
      if (!answer.ok) throw new Error(answer.statusText);
      place.innerHTML = await answer.text();
    } catch {
      place.textContent = "This drawing could not be had; close and open it to try again.";
      delete target.dataset.asked;
    }
  }, true);

  function draw({ rung, column, columns, rows, values }) {
    const bytes = atob(values);
    for (const field of main.querySelectorAll(`canvas[data-rung="${CSS.escape(rung)}"]`)) {
      if (field.width !== columns || field.height !== rows) { field.width = columns; field.height = rows; }
      const pen = field.getContext("2d");
      const strip = pen.createImageData(1, rows);
      for (let row = 0; row < rows; ++row) {
        const [r, g, b] = colours[bytes.charCodeAt(row)];
        strip.data.set([r, g, b, 255], 4 * row);
      }
      pen.putImageData(strip, column, 0);
    }
  }

  const source = new EventSource("events");
  const on = (name, act) => source.addEventListener(name, (event) => {
    const data = JSON.parse(event.data);
    const opens = name === "generation" || name === "problem";
    if (opens ? data.generation < newest : data.generation !== newest) return;
    act(data);
  });
  on("generation", (data) => {
    newest = data.generation; waiting = []; left = data.rungs.length;
    say("computing");
  });
  on("steady", (data) => {
    replace(data.html); shown = data.generation; problem.textContent = "";
    waiting.forEach(draw); waiting = [];
    say(`computing, ${left} to judge`);
  });
  on("column", (data) => { if (shown === data.generation) draw(data); else waiting.push(data); });
  on("priced", (data) => fill(data.cells));
  on("finished", (data) => {
    if (data.rung === null) { replace(data.html); shown = data.generation; problem.textContent = ""; say("up to date"); return; }
    fill(data.cells);
    left -= 1;
    say(left > 0 ? `computing, ${left} to judge` : "finishing");
  });
  on("problem", (data) => { newest = data.generation; problem.textContent = data.text; say("not up to date: the house file has a problem"); });
  source.onerror = () => say("not connected; trying again");
})();
