// While one types, shows the first yarns that go on from it. A scanner's Enter sends the form.
for (const place of document.querySelectorAll("[data-suggest]")) {
  const box = place.querySelector("input");
  const list = place.querySelector(".suggestions");
  let asked = 0;
  let waiting;
  const ask = async () => {
    const mine = ++asked;
    const answer = await fetch(`${place.dataset.suggest}?q=${encodeURIComponent(box.value)}`);
    if (!answer.ok) return;
    const text = await answer.text();
    if (mine === asked) list.innerHTML = text;
  };
  box.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => ask().catch(() => {}), 120);
  });
}
