// Reads drawn sheets as a browser shows them. For each sheet: every text with its ink on the screen, the frame,
// which symbols stand where, and what lies under the lettering. Lengths in the answer are mm of the full-size
// paper; heights are mm of the page as shown, which is at half size.
"use strict";

const HEAVY_MM = 0.5;   // the least width of a line that lettering must keep off
const DARK = 0.6;       // greys from here on are half-tone: lettering may lie on them
const PX_PER_MM = 6;    // fineness of the raster for heavy lines
const pen = document.createElement("canvas").getContext("2d");

function inkOf(text) {
  // the ink of the very words in the very face: canvas and SVG take it from one font
  const style = getComputedStyle(text), size = parseFloat(style.fontSize), fine = 100;
  pen.font = `${style.fontWeight} ${fine}px ${style.fontFamily}`;
  const words = text.textContent.trim().replace(/\s+/g, " "), ink = pen.measureText(words), k = size / fine;
  const shift = { start: 0, middle: ink.width / 2, end: ink.width }[style.textAnchor];
  const x = parseFloat(text.getAttribute("x")), y = parseFloat(text.getAttribute("y"));
  return {
    box: [x + (-ink.actualBoundingBoxLeft - shift) * k, y - ink.actualBoundingBoxAscent * k,
          x + (ink.actualBoundingBoxRight - shift) * k, y + ink.actualBoundingBoxDescent * k],
    capital: pen.measureText("H").actualBoundingBoxAscent * k,
    advance: ink.width * k, drawn: text.getComputedTextLength(), words,
  };
}

function corners(box, matrix) {
  const [l, t, r, b] = box;
  return [[l, t], [r, t], [r, b], [l, b]].map(([x, y]) => {
    const p = new DOMPoint(x, y).matrixTransform(matrix);
    return [p.x, p.y];
  });
}

function shapeOf(element) {
  const value = (name) => parseFloat(element.getAttribute(name) || "0");
  const path = new Path2D();
  switch (element.tagName) {
    case "path": return new Path2D(element.getAttribute("d"));
    case "circle": path.arc(value("cx"), value("cy"), value("r"), 0, 2 * Math.PI); return path;
    case "rect": path.rect(value("x"), value("y"), value("width"), value("height")); return path;
    case "polyline": case "polygon": {
      const points = element.getAttribute("points").trim().split(/\s+/).map((p) => p.split(",").map(Number));
      points.forEach(([x, y], i) => (i ? path.lineTo(x, y) : path.moveTo(x, y)));
      if (element.tagName === "polygon") path.closePath();
      return path;
    }
  }
  return null;
}

function grey(colour) {
  const found = colour.match(/\d+/g);
  return colour === "none" || !found ? null : (Number(found[0]) + Number(found[1]) + Number(found[2])) / 765;
}

function heavyRaster(svg, width, height) {
  // heavy lines and dark areas alone, in drawing order: a white area hides what lies under it
  const canvas = document.createElement("canvas");
  canvas.width = Math.ceil(width * PX_PER_MM);
  canvas.height = Math.ceil(height * PX_PER_MM);
  const ctx = canvas.getContext("2d", { willReadFrequently: true });
  const base = svg.getCTM().inverse();
  for (const element of svg.querySelectorAll("path,circle,rect,polyline,polygon")) {
    const shape = shapeOf(element), style = getComputedStyle(element);
    const m = base.multiply(element.getCTM());
    ctx.setTransform(m.a * PX_PER_MM, m.b * PX_PER_MM, m.c * PX_PER_MM, m.d * PX_PER_MM,
                     m.e * PX_PER_MM, m.f * PX_PER_MM);
    const fill = grey(style.fill), line = grey(style.stroke), wide = parseFloat(style.strokeWidth);
    if (fill !== null) {
      ctx.fillStyle = fill < DARK ? "#000" : "#fff";
      ctx.fill(shape);
    }
    if (line !== null && line < DARK && wide >= HEAVY_MM) {
      ctx.lineWidth = wide;
      ctx.lineCap = style.strokeLinecap;
      ctx.lineJoin = style.strokeLinejoin;
      ctx.setLineDash(style.strokeDasharray === "none" ? [] : style.strokeDasharray.split(/[ ,]+/).map(parseFloat));
      ctx.strokeStyle = "#000";
      ctx.stroke(shape);
    }
  }
  return ctx;
}

function darkUnder(ctx, quad) {
  // pixels of heavy ink inside a turned box
  const xs = quad.map((p) => p[0] * PX_PER_MM), ys = quad.map((p) => p[1] * PX_PER_MM);
  const l = Math.floor(Math.min(...xs)), t = Math.floor(Math.min(...ys));
  const w = Math.ceil(Math.max(...xs)) - l, h = Math.ceil(Math.max(...ys)) - t;
  if (w < 1 || h < 1) return 0;
  const data = ctx.getImageData(l, t, w, h).data;
  let count = 0;
  for (let j = 0; j < h; j++) for (let i = 0; i < w; i++) {
    const at = 4 * (j * w + i);
    if (data[at + 3] < 128 || data[at] > 127) continue;
    const px = l + i + 0.5, py = t + j + 0.5;
    if (xs.every((x, n) => {
      const m = (n + 1) % 4;
      return (xs[m] - x) * (py - ys[n]) - (ys[m] - ys[n]) * (px - x) >= 0;
    })) count++;
  }
  return count;
}

function sheetOf(svg) {
  const view = svg.viewBox.baseVal, toPaper = svg.getScreenCTM().inverse();
  const raster = heavyRaster(svg, view.width, view.height);
  const border = svg.querySelector("g.border polygon").getBBox();
  const chain = (e) => {
    const names = [];
    for (let g = e.closest("g"); g; g = g.parentElement.closest("g")) names.push(g.getAttribute("class"));
    return names;
  };
  const owner = (e) => { const g = e.closest("g[data-object]"); return g ? g.getAttribute("data-object") : ""; };
  const texts = [];
  for (const text of svg.querySelectorAll("text")) {
    const ink = inkOf(text);
    if (!ink.words.trim()) continue;
    const screen = text.getScreenCTM();
    const quad = corners(ink.box, toPaper.multiply(screen));
    const mm = Math.hypot(screen.c, screen.d) * 25.4 / 96;
    texts.push({ words: ink.words, quad, shown_mm: ink.capital * mm, advance: ink.advance, drawn: ink.drawn,
                 inside: chain(text), object: owner(text), heavy: darkUnder(raster, quad) });
  }
  const symbols = [...svg.querySelectorAll("g[class^='symbol-']")].map((g) => {
    const box = g.getBBox();
    return { kind: g.getAttribute("class").slice(7), object: owner(g), inside: chain(g.parentElement),
             ink: box.width > 0 || box.height > 0 };
  });
  const leaders = [...svg.querySelectorAll("g.leader polyline, g.finding polyline")].map((line) => ({
    object: owner(line),
    points: line.getAttribute("points").trim().split(/\s+/).map((p) => {
      const [x, y] = p.split(",").map(Number), q = new DOMPoint(x, y).matrixTransform(toPaper.multiply(line.getScreenCTM()));
      return [q.x, q.y];
    }),
  }));
  return { id: svg.dataset.sheet, width: view.width, height: view.height,
           half: svg.getBoundingClientRect().width * 25.4 / 96 / view.width,
           frame: [border.x, border.y, border.x + border.width, border.y + border.height],
           classes: [...new Set([...svg.querySelectorAll("g")].map((g) => g.getAttribute("class")))],
           rows: [...svg.querySelectorAll("g.table-row[data-object]")].map((g) => g.dataset.object),
           texts, symbols, leaders };
}

addEventListener("load", async () => {
  await document.fonts.load("20px 'IBM Plex Sans Condensed'");
  await document.fonts.load("bold 20px 'IBM Plex Sans Condensed'");
  await document.fonts.ready;
  const found = [...document.querySelectorAll("svg")].map(sheetOf);
  const answer = document.createElement("pre");
  answer.id = "answer";
  answer.textContent = btoa(unescape(encodeURIComponent(JSON.stringify(found))));
  document.body.replaceChildren(answer);
});
