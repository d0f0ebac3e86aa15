// Offers the sizes that were typed as suggestions for the size to make.
const sizes = document.getElementById("sizes");
const offered = document.getElementById("sizes-listed");

function offer() {
  const names = sizes.value.split(/[()[\]{};,]/).map((name) => name.trim()).filter(Boolean);
  offered.replaceChildren(...names.map((name) => new Option(name, name)));
}

if (sizes && offered) {
  sizes.addEventListener("input", offer);
  offer();
}
