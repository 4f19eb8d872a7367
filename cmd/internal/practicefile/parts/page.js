// Shows the pages that the program makes: catches forms and links, follows where an answer sends, and keeps the place behind the # of the
// address, so that back and forward work. Nothing is loaded and nothing is sent.
"use strict";
(() => {
  const name = "practice at home";
  const text = (id) => document.getElementById(id).textContent;
  // digits of base 85, as base85.go writes them
  const worth = new Uint8Array(128);
  for (let c = 35, n = 0; c < 126; c++) if (!"&'<>\\`".includes(String.fromCharCode(c))) worth[c] = n++;
  const bytes = (id) => {
    const raw = text(id);
    const out = new Uint8Array(Math.floor((raw.length * 4) / 5));
    for (let i = 0, n = 0; i < raw.length; i += 5) {
      let word = 0;
      for (let j = i; j < i + 5; j++) word = word * 85 + (j < raw.length ? worth[raw.charCodeAt(j)] : 84);
      for (let shift = 24; shift >= 0; shift -= 8) out[n++] = word >>> shift; // what lies behind the end is dropped
    }
    return out;
  };
  const fail = (why) => {
    const wait = document.getElementById("wait");
    if (wait) wait.textContent = "This browser cannot open the file: " + why;
  };

  // What was practiced is one log for all such files of an address; the vehicle in hand is the file's own.
  const own = document.getElementById("offers").dataset.file;
  const place = (what) => (what ? [name, what, own].join(", ") : name);

  // What will be wanted soon is prepared in small pieces while somebody reads.
  let waiting = 0;
  const piece = () => {
    const chosen = document.querySelector("input[name=stage]:checked");
    if (nospark.prepare(chosen ? chosen.value : "")) waiting = setTimeout(piece, 10);
    else performance.mark("prepared");
  };
  const soon = (after) => {
    clearTimeout(waiting);
    if (nospark.prepare) waiting = setTimeout(piece, after);
  };

  let here = "";
  const focus = (id) => {
    const at = (id && document.getElementById(id)) || document.querySelector("main");
    const around = at.closest("details");
    if (around) around.open = true;
    if (at.tabIndex < 0) at.tabIndex = -1;
    at.focus({ preventScroll: true });
    if (at.matches("main")) scrollTo(0, 0);
    else at.scrollIntoView();
  };
  // Makes an element like that of the next page and leaves alone what is the same in both: the drawing and the list of
  // tests are most of a sheet, and to lay them out again takes longer than to compute the reading.
  const same = (a, b) => kept(b) || ["id", "aria-labelledby", "action"].every((k) => a.getAttribute(k) === b.getAttribute(k));
  const become = (old, next) => {
    if (kept(next) || old.isEqualNode(next)) return;
    if (old.nodeType !== Node.ELEMENT_NODE) return old.replaceWith(next);
    for (const a of [...old.attributes]) if (!next.hasAttribute(a.name)) old.removeAttribute(a.name);
    for (const a of next.attributes) if (old.getAttribute(a.name) !== a.value) old.setAttribute(a.name, a.value);
    let at = old.firstChild;
    for (const child of [...next.childNodes]) {
      let like = at;
      while (like && !(like.nodeName === child.nodeName && (like.nodeType !== Node.ELEMENT_NODE || same(like, child)))) like = like.nextSibling;
      if (!like) {
        old.insertBefore(child, at);
        continue;
      }
      while (at !== like) {
        const gone = at;
        at = at.nextSibling;
        gone.remove();
      }
      at = like.nextSibling;
      become(like, child);
    }
    while (at) {
      const gone = at;
      at = at.nextSibling;
      gone.remove();
    }
  };
  // A drawing is half of a sheet. One that is there already is not read again: an empty one stands in its place.
  let drawing = "";
  const kept = (e) => e.nodeName === "svg" && e.hasAttribute("data-kept");
  const read = (body) => {
    const next = (body.match(/<svg[^]*?<\/svg>/g) || []).reduce((a, b) => (b.length > a.length ? b : a), "");
    if (next && next === drawing) body = body.replace(next, "<svg data-kept></svg>");
    drawing = next;
    return parse(body);
  };
  const parse = (body) => new DOMParser().parseFromString(body, "text/html");
  const show = (page) => {
    for (const part of ["header", "main", "footer"]) become(document.querySelector(part), page.querySelector(part));
  };
  const go = (method, to, form) => {
    let answer = nospark.answer(method, to.split("#")[0], form);
    for (let i = 0; answer.status === 303 && i < 5; i++) {
      to = answer.location;
      method = "GET";
      answer = nospark.answer(method, to.split("#")[0], "");
    }
    const page = read(answer.body);
    document.title = page.title;
    document.getElementById("text").media = page.querySelector('link[href="/text.css"]') ? "all" : "not all";
    if (document.activeElement) document.activeElement.blur(); // so that whoever listens hears where the focus goes
    for (const open of document.querySelectorAll("details[open]")) open.open = false;
    show(page);
    if (document.querySelector("svg[data-kept]")) show(parse(answer.body)); // the drawing was not where it is now
    for (const form of document.forms) form.reset(); // what was typed belongs to the page before
    if (method === "GET") {
      here = "#" + to.split("#")[0];
      if (location.hash !== here) location.hash = here;
    }
    focus(to.split("#")[1]);
    soon(100);
  };
  const at = () => (location.hash.startsWith("#/") ? location.hash.slice(1) : "/");

  document.addEventListener("submit", (e) => {
    e.preventDefault();
    if (!window.nospark.answer) return;
    const fields = new URLSearchParams();
    for (const [key, value] of new FormData(e.target)) fields.append(key, value);
    if (e.submitter && e.submitter.name) fields.append(e.submitter.name, e.submitter.value);
    go("POST", e.target.getAttribute("action"), fields.toString());
  });
  document.addEventListener("click", (e) => {
    const link = e.target.closest && e.target.closest("a[href]");
    if (!link || e.defaultPrevented || e.button || e.ctrlKey || e.metaKey || e.shiftKey) return;
    const to = link.getAttribute("href");
    e.preventDefault();
    if (to.startsWith("#")) focus(to.slice(1));
    else if (to.startsWith("/") && window.nospark.answer) go("GET", to, "");
  });
  addEventListener("hashchange", () => {
    if (location.hash !== here && window.nospark.answer) go("GET", at(), "");
  });
  document.addEventListener("change", () => soon(50));
  for (const act of ["pointerdown", "keydown", "wheel"]) addEventListener(act, () => soon(300), { passive: true });

  window.nospark = {
    offers: text("offers"),
    shelf: (i) => bytes("shelf-" + i),
    kept(what) {
      try {
        return localStorage.getItem(place(what)) || "";
      } catch {
        return ""; // some browsers keep nothing for files; the pages say so
      }
    },
    keep(what, kept) {
      try {
        if (kept) localStorage.setItem(place(what), kept);
        else localStorage.removeItem(place(what));
        return true;
      } catch {
        return false;
      }
    },
    failed: fail,
    ready: () => {
      go("GET", at(), "");
      performance.mark("ready");
    },
  };
  (async () => {
    if (typeof DecompressionStream === "undefined" || typeof WebAssembly === "undefined") return fail("it is too old");
    const stream = new Blob([bytes("packed")]).stream().pipeThrough(new DecompressionStream("gzip"));
    const starter = new Go();
    const program = await WebAssembly.instantiate(await new Response(stream).arrayBuffer(), starter.importObject);
    document.getElementById("packed").remove();
    await starter.run(program.instance);
  })().catch((why) => fail(String(why)));
})();
