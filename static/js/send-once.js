// A second press while the page is being sent does nothing.
for (const form of document.querySelectorAll("form[data-send-once]")) {
  let sent = false;
  form.addEventListener("submit", (event) => {
    if (sent) event.preventDefault();
    sent = true;
  });
  window.addEventListener("pageshow", () => { sent = false; });
}
