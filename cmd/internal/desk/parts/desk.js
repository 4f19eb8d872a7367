// The page works without this: reload it. With it the class shows by itself, and the key b blanks the page.
"use strict";
(() => {
  const live = document.getElementById("live");
  addEventListener("keydown", (e) => {
    if (e.key === "b" && !e.ctrlKey && !e.metaKey && !e.altKey && !e.target.matches("input, textarea, select")) {
      document.body.classList.toggle("blank");
    }
  });
  const filled = () => live.contains(document.activeElement) ||
    [...live.querySelectorAll("input:not([type=hidden])")].some((f) => f.value !== f.defaultValue);
  setInterval(async () => {
    if (document.hidden || filled()) return;
    try {
      const answer = await fetch(location.pathname);
      if (!answer.ok) return;
      const now = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("live");
      if (now && !filled() && now.innerHTML !== live.innerHTML) live.replaceChildren(...now.childNodes);
    } catch {
      // the server restarts
    }
  }, 3000);
})();
