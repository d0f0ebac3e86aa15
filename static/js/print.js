// Shows the button that prints the page, and lets it do so.
for (const button of document.querySelectorAll("button.print")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
