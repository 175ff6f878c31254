// A button copies the text beside it; without this file there is no button, and the text can be selected.
const copied = async (text, source) => {
  try {
    await navigator.clipboard.writeText(text);
  } catch {
    // A site without TLS, as in a sports hall, has no clipboard: the browser's old way takes what is selected.
    getSelection().selectAllChildren(source);
    if (!document.execCommand("copy")) return false;
  }
  return true;
};

for (const button of document.querySelectorAll("button[data-copies]")) {
  const source = document.getElementById(button.dataset.copies);
  button.hidden = false;
  button.addEventListener("click", async () => {
    const done = await copied(source.textContent.trim(), source);
    document.getElementById(button.dataset.says).textContent = done ? button.dataset.done : button.dataset.failed;
  });
}
