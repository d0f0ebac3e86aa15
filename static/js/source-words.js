// Shows which words of the pattern a box was filled from while the box has the focus.
const marks = [...document.querySelectorAll("mark[data-boxes]")];

function show(event) {
  const box = event.target.name || "";
  let first = null;
  for (const mark of marks) {
    const now = mark.dataset.boxes.split(" ").some((name) => name === box || `${name}_unit` === box);
    mark.classList.toggle("now", now);
    if (now && !first) first = mark;
  }
  if (first) {
    const text = first.closest(".source-text");
    text.scrollTop = first.offsetTop - text.offsetTop - text.clientHeight / 3;
  }
}

document.getElementById("ask")?.addEventListener("focusin", show);
