"""How the page looks to everybody: contrast of every text, and nothing wider than the screen."""

# The texts below the element, each with its colour and that of what lies behind it, as the browser has worked them out.
TEXTS = """
(() => {
  const canvas = new OffscreenCanvas(1, 1).getContext('2d', {willReadFrequently: true});
  const known = new Map();
  const rgba = colour => {
    if (!known.has(colour)) {
      canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = colour; canvas.fillRect(0, 0, 1, 1);
      known.set(colour, [...canvas.getImageData(0, 0, 1, 1).data]);
    }
    return known.get(colour);
  };
  const up = one => one.parentElement ?? one.getRootNode().host ?? null;
  const behind = one => {
    for (let at = one; at; at = up(at)) { const back = rgba(getComputedStyle(at).backgroundColor); if (back[3] === 255) return back; if (back[3] > 0) return null; }
    return [255, 255, 255, 255];
  };
  const found = [];
  const walk = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const one = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || !one?.checkVisibility?.() || one.closest('svg, style')) continue;
    found.push([walk.currentNode.data.trim().slice(0, 40), rgba(getComputedStyle(one).color), behind(one)]);
  }
  for (const one of root.querySelectorAll('input, select, textarea')) if (one.checkVisibility()) found.push([one.id, rgba(getComputedStyle(one).color), behind(one)]);
  return found;
})()
"""

# The colour behind the element, as red, green and blue.
BACKGROUND = """
(() => {
  const canvas = new OffscreenCanvas(1, 1).getContext('2d');
  canvas.fillStyle = getComputedStyle(element).backgroundColor;
  canvas.fillRect(0, 0, 1, 1);
  return [...canvas.getImageData(0, 0, 1, 1).data];
})()
"""

# What sticks out of the page and does not lie in a frame that scrolls.
STICKS_OUT = """
(() => {
  const wide = document.documentElement.clientWidth;
  const scrolls = one => one && one.nodeType === 1 && (['auto', 'scroll', 'hidden'].includes(getComputedStyle(one).overflowX) || scrolls(one.parentElement));
  const out = [...root.querySelectorAll('*')].filter(one => one.checkVisibility() && one.getBoundingClientRect().right > wide + 1 && !one.closest('svg') && !one.closest('.unseen, label') && !scrolls(one.parentElement));
  return {page: document.documentElement.scrollWidth, wide, out: out.slice(0, 5).map(one => one.localName + '#' + one.id + '.' + one.className)};
})()
"""


def luminance(colour):
    """Relative luminance as in WCAG 2."""
    def linear(part):
        part /= 255
        return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
    red, green, blue = (linear(part) for part in colour[:3])
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def check_contrast(person, theme):
    """Every text has 4.5 : 1; gives the least."""
    texts = person.look(TEXTS)
    assert len(texts) > 100, f"{theme}: only {len(texts)} texts were seen"
    least = 21
    for text, colour, behind in texts:
        assert behind is not None and colour[3] == 255, f"{theme}: {text!r} is half transparent"
        ratio = contrast(colour, behind)
        assert ratio >= 4.5, f"{theme}: {text!r} has a contrast of {ratio:.2f}"
        least = min(least, ratio)
    return len(texts), least


def check_width(person, what):
    found = person.look(STICKS_OUT)
    assert found["page"] <= found["wide"] and not found["out"], f"{what}: {found}"
