// The page works without this. With it, what another device did on the same sheet, and what the desk decides, shows by
// itself; a form that somebody is filling in is never replaced.
"use strict";
(() => {
  const seen = document.body.dataset.version;
  const busy = () => {
    const at = document.activeElement;
    if (at && at.closest("form") && at.matches("input, select, textarea")) return true;
    return [...document.querySelectorAll("form input:not([type=hidden]), form textarea, form select")].some((f) =>
      f.type === "radio" ? f.checked !== f.defaultChecked : f.tagName === "SELECT" ? f.selectedIndex > 0 : f.value !== f.defaultValue);
  };
  if (seen && window.EventSource) {
    new EventSource("/events").onmessage = (e) => {
      if (e.data === seen) return;
      if (!busy()) return location.reload();
      const note = document.getElementById("changed");
      if (note && !note.firstChild) {
        note.className = "notice";
        note.append("This sheet has changed. ");
        const link = document.createElement("a");
        link.href = "/sheet#now";
        link.textContent = "Show it";
        link.onclick = () => location.reload();
        note.append(link);
      }
    };
  }
  if (document.getElementById("waiting")) setTimeout(() => location.replace("/sheet"), 4000);
  const strip = location.pathname === "/claim" && location.hash.slice(1).split("&");
  if (strip && strip.length === 2) { // a strip's picture: code and word, which the address need not keep
    ["sheet", "word"].forEach((id, i) => { document.getElementById(id).value = strip[i]; });
    history.replaceState(null, "", "/claim");
  }
  const open = () => {
    const at = location.hash.length > 1 && document.getElementById(location.hash.slice(1));
    const around = at && at.closest("details");
    if (around) {
      around.open = true;
      at.focus();
    }
  };
  addEventListener("hashchange", open);
  open();
})();
