// The buttons stay hidden without this script: the command beside each can be marked and copied by hand.
for (const button of document.querySelectorAll("button.copy")) {
  const label = button.firstElementChild, word = label.textContent;
  const code = button.previousElementSibling;
  button.hidden = false;
  button.addEventListener("click", async () => {
    getSelection().selectAllChildren(code);
    try { await navigator.clipboard.writeText(code.textContent); }
    catch { if (!document.execCommand("copy")) return; }
    label.textContent = document.getElementById("said").textContent = button.dataset.done;
    setTimeout(() => { label.textContent = word; document.getElementById("said").textContent = ""; }, 2000);
  });
}
