"use strict";
// The page is complete without this: it only filters, enlarges, and keeps a reviewer's comments.
(function () {
  const $ = (id) => document.getElementById(id);

  // Long parts wait as text, so that a big packet opens at once: drawings, findings that ask for nothing, long
  // tables. A part is put in when it is looked at, led to, searched or printed, else while nothing else is done.
  const waiting = new Set(document.querySelectorAll(".rest"));
  const dressers = [];
  function fill(box) {
    if (!waiting.delete(box)) return;
    box.innerHTML = box.querySelector("noscript").textContent;
    // What is drawn once and used again may stand in a drawing that still waits.
    for (const use of box.querySelectorAll("use")) find(use.getAttribute("href").slice(1));
    for (const dress of dressers) dress(box);
  }
  function fillAll(within) { for (const box of Array.from(waiting)) if (within.contains(box)) fill(box); }
  function find(id) {
    if (!$(id)) {
      const mark = 'id="' + id + '"';
      for (const box of waiting) if (box.textContent.includes(mark)) { fill(box); break; }
    }
    return $(id);
  }
  function dressing(dress) { dress(document); dressers.push(dress); }
  const seen = new IntersectionObserver((found) => {
    for (const one of found) if (one.isIntersecting) { seen.unobserve(one.target); fill(one.target); }
  }, { rootMargin: "600px" });
  for (const box of waiting) seen.observe(box);
  const later = window.requestIdleCallback || ((work) => setTimeout(() => work({ timeRemaining: () => 20 }), 50));
  function fillOn(time) {
    do for (const box of waiting) { fill(box); break; } while (waiting.size && time.timeRemaining() > 5);
    if (waiting.size) later(fillOn);
  }
  window.addEventListener("load", () => setTimeout(() => later(fillOn), 300));

  // What the address of the page names: a place, or a selection of findings (`#code-check?status=…&object=…`).
  const PLACE = "code-check?";
  function reveal() {
    let name = location.hash.slice(1);
    if (name.startsWith(PLACE)) {
      if (select) select(new URLSearchParams(name.slice(PLACE.length)));
      $("code-check").scrollIntoView();
      return;
    }
    try { name = decodeURIComponent(name); } catch (e) { return; }
    const place = find(name);
    if (!place) return;
    const finding = place.closest("article.finding");
    for (let box = place; box; box = box.parentElement) {
      if (box.tagName === "DETAILS") box.open = true;
      if (box === finding || "group" in box.dataset) box.hidden = false;
    }
    choose((finding || place).dataset.object || place.dataset.name || "");
    const paper = place.closest(".paper");
    if (paper && place !== paper) show(paper, place);
    else place.scrollIntoView();
  }
  // Mark an object on every drawing, and bring it into view there.
  let chosen = "";
  function mark(within) {
    if (!chosen) return;
    for (const found of within.querySelectorAll("[data-object='" + CSS.escape(chosen) + "']"))
      if (found.closest(".paper")) found.classList.add("chosen");
  }
  function choose(name) {
    for (const old of document.querySelectorAll(".chosen")) old.classList.remove("chosen");
    chosen = name;
    mark(document);
  }
  dressers.push(mark);
  window.addEventListener("hashchange", reveal);

  // Findings: by status, rule, object and words; the address of the page keeps the choice.
  let select = null;
  const filter = $("filter");
  if (filter) {
    filter.hidden = false;
    let entries = null, texts = null;
    const gather = () => {
      if (entries) return;
      fillAll($("code-check"));
      entries = Array.from(document.querySelectorAll("article.finding"));
      texts = entries.map((entry) => entry.textContent.toLowerCase());
    };
    const boxes = Array.from(filter.querySelectorAll("input[name=status]"));
    const lists = { rule: $("filter-rule"), object: $("filter-object") };
    const apply = () => {
      gather();
      const wanted = new Set(boxes.filter((b) => b.checked).map((b) => b.value));
      const words = $("filter-words").value.toLowerCase().split(/\s+/).filter(Boolean);
      const rule = lists.rule.value, object = lists.object.value;
      let shown = 0;
      entries.forEach((entry, i) => {
        const fits = wanted.has(entry.dataset.status) && (!rule || entry.dataset.rule === rule)
          && (!object || entry.dataset.object === object) && words.every((w) => texts[i].includes(w));
        entry.hidden = !fits;
        if (fits) shown += 1;
      });
      for (const group of document.querySelectorAll("[data-group]")) {
        group.hidden = !group.querySelector("article.finding:not([hidden])");
        if ((words.length || rule || object) && group.tagName === "DETAILS") group.open = !group.hidden;
      }
      choose(object);
      $("filter-count").textContent = shown + " of " + entries.length + " findings shown.";
    };
    const keep = () => {
      const state = new URLSearchParams(), on = boxes.filter((b) => b.checked).map((b) => b.value);
      if (on.length < boxes.length) state.set("status", on.join(","));
      for (const key of Object.keys(lists)) if (lists[key].value) state.set(key, lists[key].value);
      if ($("filter-words").value.trim()) state.set("words", $("filter-words").value.trim());
      history.replaceState(null, "", "#" + (state.toString() ? PLACE + state : "code-check"));
    };
    select = (state) => {
      const on = state.has("status") ? state.get("status").split(",") : boxes.map((b) => b.value);
      for (const box of boxes) box.checked = on.includes(box.value);
      for (const key of Object.keys(lists)) lists[key].value = state.get(key) || "";
      $("filter-words").value = state.get("words") || "";
      apply();
    };
    filter.addEventListener("input", () => { apply(); keep(); });
    filter.addEventListener("submit", (event) => event.preventDefault());
    $("filter-clear").addEventListener("click", () => { select(new URLSearchParams()); keep(); });
    dressing((within) => {
      for (const row of within.querySelectorAll("tr[data-name] > th")) {
        const link = document.createElement("a"), name = row.textContent;
        link.href = "#" + PLACE + new URLSearchParams({ object: name });
        link.textContent = name;
        row.replaceChildren(link);
      }
    });
  }

  // Drawings: enlarge, fit, move.
  const levels = new WeakMap();
  function zoom(paper, factor, fit) {
    fillAll(paper);
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

  // The reviewer's comments. A number is never given twice, not even after its comment is removed.
  const form = $("comment-form"), table = $("comments");
  if (form && table) {
    form.hidden = false;
    const FIELDS = ["sheet", "zone", "finding", "object", "code", "kind", "discipline", "by", "contact", "status", "text"];
    const KEPT = ["number", ...FIELDS, "closed_by", "closed_on"];
    const body = table.tBodies[0], blank = Array.from(body.rows), cycle = $("c-cycle");
    let comments = [], saved = true, used = 0;
    const say = (words) => { $("c-state").textContent = words; };
    const field = (name) => $("c-" + name).value.trim();
    const count = (number) => Number((/(\d+)$/.exec(number) || [0, 0])[1]);
    const draw = () => {
      body.replaceChildren();
      comments.forEach((c, i) => {
        const row = body.insertRow();
        const where = [c.sheet, c.zone].filter(Boolean).join(" ");
        const about = [c.object, c.finding, c.code].filter(Boolean).join("; ");
        const by = [c.by, c.discipline, c.contact].filter(Boolean).join(", ");
        for (const text of [c.number, where, about, c.kind, c.text, by, c.status]) row.insertCell().textContent = text || "";
        const drop = document.createElement("button");
        drop.type = "button";
        drop.textContent = "Remove";
        drop.setAttribute("aria-label", "Remove comment " + c.number);
        drop.addEventListener("click", () => { comments.splice(i, 1); saved = false; draw(); $("c-text").focus(); });
        row.lastElementChild.append(" ", drop);
      });
      if (!comments.length) body.append(...blank);
      say(comments.length + (comments.length === 1 ? " comment" : " comments") + (saved ? "" : ", NOT SAVED"));
    };
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      if (!field("text")) { say("The comment is empty."); return; }
      used += 1;
      const c = Object.fromEntries(FIELDS.map((name) => [name, field(name)]));
      c.number = (cycle.value.trim() || "1") + "." + String(used).padStart(2, "0");
      comments.push(c);
      $("c-text").value = "";
      saved = false;
      draw();
    });
    $("c-save").addEventListener("click", () => {
      const whole = { format: "plangen-comments/1", digest: table.dataset.digest, title: table.dataset.title,
        design: table.dataset.design, cycle: cycle.value.trim() || "1", comments };
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([JSON.stringify(whole, null, 1) + "\n"], { type: "application/json" }));
      link.download = "comments-cycle-" + whole.cycle.replace(/[^A-Za-z0-9]/g, "") + ".json";
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
        comments = whole.comments.map((c, i) => {
          const kept = Object.fromEntries(KEPT.map((n) => [n, String(c[n] || "")]));
          kept.number = kept.number || String(i + 1);
          return kept;
        });
        used = Math.max(0, ...comments.map((c) => count(c.number)));
        if (whole.cycle) cycle.value = String(whole.cycle);
        saved = true;
        draw();
        if (whole.digest !== table.dataset.digest) say("Loaded. These comments were made on another issue of this packet.");
      } catch (e) {
        say("This file holds no comments of a packet.");
      }
      event.target.value = "";
    });
    dressing((within) => { for (const entry of within.querySelectorAll("article.finding")) remark(entry); });
    function remark(entry) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = "Comment";
      button.setAttribute("aria-label", "Comment on " + entry.querySelector("h3").textContent.trim().replace(/\s+/g, " "));
      button.addEventListener("click", () => {
        $("c-finding").value = entry.id;
        $("c-object").value = entry.dataset.object;
        $("c-sheet").value = entry.dataset.sheet || "";
        $("c-zone").value = entry.dataset.zone || "";
        $("c-text").scrollIntoView({ block: "center" });
        $("c-text").focus();
      });
      entry.querySelector(".where").append(" ", button);
    }
    window.addEventListener("beforeunload", (event) => { if (!saved) event.preventDefault(); });
    draw();
  }

  window.addEventListener("beforeprint", () => { fillAll(document); for (const d of document.querySelectorAll("details:not(.on-sheet)")) d.open = true; });
  if (location.hash) reveal();
})();
