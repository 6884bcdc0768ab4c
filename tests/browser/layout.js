// Lists texts that are cut off by a box around them or lie over another text, and sideways scrolling.
// A text's box is taken a little smaller than its line, so that tight lines do not count as touching.
const SLACK = 1.5;
const found = [];
const root = document.documentElement;

const short = (node) => {
  const text = node.textContent.trim().replace(/\s+/g, " ");
  return `"${text.length > 40 ? text.slice(0, 40) + "…" : text}"`;
};

const inked = (rect) => ({
  left: rect.left,
  right: rect.right,
  top: rect.top + 0.18 * rect.height,
  bottom: rect.bottom - 0.12 * rect.height,
});

const boxesOf = (node) => {
  const range = document.createRange();
  range.selectNodeContents(node);
  return [...range.getClientRects()].filter((r) => r.width > 0.5 && r.height > 0.5).map(inked);
};

// Cuts a text's box down to what the boxes around it let through; null when nothing is left to see.
const visible = (node, box) => {
  let jump = null;
  for (let around = node.parentElement; around && around !== document.body && around !== root; around = around.parentElement) {
    const style = getComputedStyle(around);
    const holds = style.position !== "static" || style.transform !== "none";
    if (jump === "fixed" || (jump === "absolute" && !holds)) continue;
    const edge = around.getBoundingClientRect();
    // Text for reading aloud only.
    if (style.clipPath !== "none" && edge.width <= 2 && edge.height <= 2) return null;
    const sides = [
      ["left", "right", style.overflowX],
      ["top", "bottom", style.overflowY],
    ];
    for (const [low, high, overflow] of sides) {
      if (overflow === "visible") continue;
      if (overflow === "auto" || overflow === "scroll") {
        box = { ...box, [low]: Math.max(box[low], edge[low]), [high]: Math.min(box[high], edge[high]) };
        if (box[high] - box[low] <= SLACK) return null;
      } else if (box[low] < edge[low] - SLACK || box[high] > edge[high] + SLACK) {
        found.push(`cut off: ${short(node)} by <${around.localName} class="${around.getAttribute("class") ?? ""}">`);
        return null;
      }
    }
    jump = style.position === "fixed" || style.position === "absolute" ? style.position : null;
  }
  if (box.left + scrollX < -SLACK || box.right + scrollX > Math.max(root.clientWidth, 1) + SLACK) {
    found.push(`off the page: ${short(node)}`);
    return null;
  }
  return box;
};

const crossing = (a, b) => {
  const box = {
    left: Math.max(a.left, b.left),
    right: Math.min(a.right, b.right),
    top: Math.max(a.top, b.top),
    bottom: Math.min(a.bottom, b.bottom),
  };
  return box.right - box.left > SLACK && box.bottom - box.top > SLACK ? box : null;
};

const opaque = (element) => {
  const style = getComputedStyle(element);
  if (Number(style.opacity) < 0.95) return false;
  if (element instanceof SVGGeometryElement) {
    return style.fill !== "none" && !/rgba\(.*, 0?\.\d+\)|, 0\)/.test(style.fill) && Number(style.fillOpacity) >= 0.95;
  }
  if (["img", "canvas", "video"].includes(element.localName)) return true;
  const colour = style.backgroundColor;
  return colour.startsWith("rgb(") || style.backgroundImage !== "none";
};

// Whether something opaque lies between the two texts, so that the lower one is covered and not muddled.
const covered = (a, b, box) => {
  const stack = document.elementsFromPoint((box.left + box.right) / 2, (box.top + box.bottom) / 2);
  const places = [stack.indexOf(a.parentElement), stack.indexOf(b.parentElement)];
  if (places.includes(-1) || places[0] === places[1]) return false;
  const lower = stack[Math.max(...places)];
  return stack.slice(0, Math.max(...places)).some((element) => !element.contains(lower) && opaque(element));
};

if (root.scrollWidth > root.clientWidth + 1) {
  found.push(`the page scrolls sideways: ${root.scrollWidth} in ${root.clientWidth}`);
}

const seen = [];
const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
for (let node = walker.nextNode(); node; node = walker.nextNode()) {
  const parent = node.parentElement;
  // What is inert lies under something that has the reader's attention.
  if (parent.closest("[inert]")) continue;
  const modal = document.querySelector("dialog:modal");
  if (modal && !modal.contains(parent)) continue;
  if (!node.textContent.trim() || ["SCRIPT", "STYLE", "NOSCRIPT", "OPTION", "TEMPLATE"].includes(parent.tagName)) continue;
  if (!parent.checkVisibility({ opacityProperty: true, visibilityProperty: true, contentVisibilityAuto: true })) continue;
  for (const whole of boxesOf(node)) {
    const box = visible(node, whole);
    if (box) seen.push({ node, ...box });
  }
}

for (const field of document.querySelectorAll("input, textarea, button, select")) {
  // What a button lets stick out, as a larger place to press, is not cut off.
  if (field.localName === "button" && getComputedStyle(field).overflowX === "visible") continue;
  if (field.checkVisibility() && field.type !== "file" && field.type !== "range" && field.scrollWidth > field.clientWidth + 1) {
    const label = field.getAttribute("aria-label") ?? field.labels?.[0]?.textContent ?? field.textContent;
    found.push(`cut off: what <${field.localName}> "${label}" holds`);
  }
}

seen.sort((a, b) => a.top - b.top);
const told = new Set();
for (let i = 0; i < seen.length; i++) {
  for (let j = i + 1; j < seen.length && seen[j].top < seen[i].bottom; j++) {
    const [a, b] = [seen[i].node, seen[j].node];
    if (a === b || !crossing(seen[i], seen[j])) continue;
    const message = `overlap: ${short(a)} and ${short(b)}`;
    if (told.has(message)) continue;
    // What covers what can only be asked inside the window, and scrolling moves what sticks to it.
    a.parentElement.scrollIntoView({ block: "center", inline: "nearest", behavior: "instant" });
    const now = boxesOf(a).flatMap((one) => boxesOf(b).map((other) => crossing(one, other))).find(Boolean);
    scrollTo({ left: 0, top: 0, behavior: "instant" });
    if (!now) continue;
    told.add(message);
    a.parentElement.scrollIntoView({ block: "center", inline: "nearest", behavior: "instant" });
    const free = !covered(a, b, now);
    scrollTo({ left: 0, top: 0, behavior: "instant" });
    if (free) found.push(message);
  }
}
return [...new Set(found)].slice(0, 30);
