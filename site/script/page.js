"use strict";
// The page is complete without this: it only filters, enlarges, and keeps a reviewer's comments.
(function () {
  const $ = (id) => document.getElementById(id);

  // Open what a link points into.
  function reveal() {
    let place = null;
    try { place = document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch (e) { return; }
    if (!place) return;
    for (let box = place; box; box = box.parentElement) if (box.tagName === "DETAILS") box.open = true;
    const finding = place.closest("article.finding");
    for (const box of [finding, place.closest("[data-group]")]) if (box) box.hidden = false;
    const paper = place.closest(".paper");
    if (paper && place !== paper) show(paper, place);
    else place.scrollIntoView();
  }
  window.addEventListener("hashchange", reveal);

  // Findings: by status and by words.
  const filter = $("filter");
  if (filter) {
    filter.hidden = false;
    const entries = Array.from(document.querySelectorAll("article.finding"));
    const apply = () => {
      const wanted = new Set(Array.from(filter.querySelectorAll("input[name=status]:checked"), (b) => b.value));
      const words = $("filter-words").value.toLowerCase().split(/\s+/).filter(Boolean);
      let shown = 0;
      for (const entry of entries) {
        const text = entry.textContent.toLowerCase();
        entry.hidden = !wanted.has(entry.dataset.status) || !words.every((w) => text.includes(w));
        if (!entry.hidden) shown += 1;
      }
      for (const group of document.querySelectorAll("[data-group]")) {
        group.hidden = !group.querySelector("article.finding:not([hidden])");
        if (words.length && group.tagName === "DETAILS") group.open = !group.hidden;
      }
      $("filter-count").textContent = shown + " of " + entries.length + " findings shown";
    };
    filter.addEventListener("input", apply);
    filter.addEventListener("submit", (event) => event.preventDefault());
    apply();
  }

  // Drawings: enlarge, fit, move.
  const levels = new WeakMap();
  function zoom(paper, factor, fit) {
    const svg = paper.querySelector("svg.sheet");
    const old = levels.get(paper) || 1;
    const now = fit ? 1 : Math.min(12, Math.max(1, old * factor));
    const x = (paper.scrollLeft + paper.clientWidth / 2) / old, y = (paper.scrollTop + paper.clientHeight / 2) / old;
    levels.set(paper, now);
    svg.style.width = now === 1 ? "" : now * 100 + "%";
    paper.scrollLeft = x * now - paper.clientWidth / 2;
    paper.scrollTop = y * now - paper.clientHeight / 2;
  }
  function show(paper, place) {
    if ((levels.get(paper) || 1) < 3) zoom(paper, 3 / (levels.get(paper) || 1));
    paper.scrollIntoView({ block: "nearest" });
    const frame = paper.getBoundingClientRect(), box = place.getBoundingClientRect();
    paper.scrollLeft += box.left + box.width / 2 - frame.left - frame.width / 2;
    paper.scrollTop += box.top + box.height / 2 - frame.top - frame.height / 2;
  }
  for (const help of document.querySelectorAll(".zoom-help")) help.hidden = false;
  for (const paper of document.querySelectorAll(".paper")) {
    const name = paper.getAttribute("aria-label");
    const bar = document.createElement("p");
    bar.className = "zoom-buttons";
    for (const [words, factor, fit] of [["Larger", 1.5, false], ["Smaller", 1 / 1.5, false], ["Fit", 1, true]]) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = words;
      button.setAttribute("aria-label", words + ": " + name);
      button.addEventListener("click", () => zoom(paper, factor, fit));
      bar.append(button, " ");
    }
    const plain = paper.previousElementSibling;
    if (plain && plain.classList.contains("enlarge")) plain.replaceWith(bar);
    else paper.before(bar);
    paper.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (event.key === "+" || event.key === "=") zoom(paper, 1.5);
      else if (event.key === "-") zoom(paper, 1 / 1.5);
      else if (event.key === "0") zoom(paper, 1, true);
      else return;
      event.preventDefault();
    });
    let from = null;
    paper.addEventListener("pointerdown", (event) => {
      if (event.pointerType !== "mouse" || event.button !== 0 || event.target.closest("a")) return;
      from = [event.clientX, event.clientY, paper.scrollLeft, paper.scrollTop];
      paper.setPointerCapture(event.pointerId);
    });
    paper.addEventListener("pointermove", (event) => {
      if (!from) return;
      paper.scrollLeft = from[2] - event.clientX + from[0];
      paper.scrollTop = from[3] - event.clientY + from[1];
    });
    for (const end of ["pointerup", "pointercancel"]) paper.addEventListener(end, () => { from = null; });
  }

  // The reviewer's comments.
  const form = $("comment-form"), table = $("comments");
  if (form && table) {
    form.hidden = false;
    const body = table.tBodies[0], blank = Array.from(body.rows);
    let comments = [], saved = true;
    const say = (words) => { $("c-state").textContent = words; };
    const draw = () => {
      body.replaceChildren();
      comments.forEach((c, i) => {
        const row = body.insertRow();
        const about = [c.object, c.finding, c.code].filter(Boolean).join("; ");
        for (const text of [i + 1, c.sheet, about, c.kind, c.text, c.by]) row.insertCell().textContent = text || "";
        const drop = document.createElement("button");
        drop.type = "button";
        drop.textContent = "Remove";
        drop.setAttribute("aria-label", "Remove comment " + (i + 1));
        drop.addEventListener("click", () => { comments.splice(i, 1); saved = false; draw(); });
        row.lastElementChild.append(" ", drop);
      });
      if (!comments.length) body.append(...blank);
      say(comments.length + (comments.length === 1 ? " comment" : " comments") + (saved ? "" : ", not saved"));
    };
    const field = (id) => $(id).value.trim();
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      if (!field("c-text")) { say("The comment is empty."); return; }
      comments.push({
        sheet: field("c-sheet"), finding: field("c-finding"), object: field("c-object"), code: field("c-code"),
        kind: field("c-kind"), by: field("c-by"), text: field("c-text"),
      });
      $("c-text").value = "";
      saved = false;
      draw();
    });
    $("c-save").addEventListener("click", () => {
      const whole = { format: "plangen-comments/1", digest: table.dataset.digest, title: table.dataset.title, comments };
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([JSON.stringify(whole, null, 1) + "\n"], { type: "application/json" }));
      link.download = "comments.json";
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 1000);
      saved = true;
      draw();
    });
    $("c-load").addEventListener("change", async (event) => {
      const file = event.target.files[0];
      if (!file) return;
      try {
        const whole = JSON.parse(await file.text());
        if (whole.format !== "plangen-comments/1" || !Array.isArray(whole.comments)) throw new Error("other");
        const names = ["sheet", "finding", "object", "code", "kind", "by", "text"];
        comments = whole.comments.map((c) => Object.fromEntries(names.map((n) => [n, String(c[n] || "")])));
        saved = true;
        draw();
        if (whole.digest !== table.dataset.digest) say("Loaded. These comments were made on another issue of this packet.");
      } catch (e) {
        say("This file holds no comments of a packet.");
      }
      event.target.value = "";
    });
    window.addEventListener("beforeunload", (event) => { if (!saved) event.preventDefault(); });
    draw();
  }

  window.addEventListener("beforeprint", () => { for (const d of document.querySelectorAll("details:not(.on-sheet)")) d.open = true; });
  if (location.hash) reveal();
})();
