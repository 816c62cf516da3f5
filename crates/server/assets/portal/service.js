// ---- The service.

/** Where this file lies, so that it works under any path. */
const OWN_BASE = new URL(".", import.meta.url).href;

/** A problem as the service tells it, or one of the network in the same form. */
class Told extends Error {
  constructor(problem, retryAfter = null) {
    super(problem.detail ?? problem.title);
    this.problem = problem;
    this.retryAfter = retryAfter;
  }
}

/** How long an answer may take, in ms: longer than a service computes before it gives up. */
const PATIENCE = 60000;

class Service {
  constructor(base) {
    this.base = new URL(base.endsWith("/") ? base : `${base}/`, document.baseURI).href;
  }

  /** The address of something of the service: `path` may begin with a slash, as permalinks do. */
  address(path) {
    return new URL(path.replace(/^\//, ""), this.base).href;
  }

  get(path, signal) {
    return this.ask(path, { headers: { accept: "application/json" }, signal });
  }

  post(path, body, signal) {
    return this.ask(path, { method: "POST", body: JSON.stringify(body), headers: { "content-type": "application/json", accept: "application/json" }, signal });
  }

  async ask(path, options) {
    const late = AbortSignal.timeout(PATIENCE);
    const signal = options.signal ? AbortSignal.any([options.signal, late]) : late;
    const unless = (error) => {
      if (error.name === "AbortError") throw error;
      if (error.name === "TimeoutError") throw new Told({ status: 0, code: "late", title: "The service does not answer", detail: `No answer came within ${PATIENCE / 1000} seconds.` });
    };
    const response = await fetch(this.address(path), { ...options, signal, credentials: "same-origin" }).catch((error) => {
      unless(error);
      throw new Told({ status: 0, code: "unreachable", title: "The service cannot be reached", detail: "No answer came: the network, the service or a policy of this page stands in the way." });
    });
    const body = await response.json().catch((error) => {
      unless(error);
      return null;
    });
    if (response.ok && body !== null) return body;
    throw new Told(isObject(body) && body.code ? body : otherwise(response.status), seconds(response.headers.get("retry-after")));
  }

  /** A drawing; read as a document by the browser itself, so that no text becomes markup here. */
  drawing(path, signal) {
    return new Promise((resolve, reject) => {
      const call = new XMLHttpRequest();
      call.open("GET", this.address(path));
      call.responseType = "document";
      call.timeout = PATIENCE;
      call.overrideMimeType("image/svg+xml");
      call.setRequestHeader("accept", "image/svg+xml");
      call.addEventListener("load", () => {
        const root = call.status === 200 ? call.response?.documentElement : null;
        if (root?.localName === "svg") resolve(harmless(root));
        else reject(new Told(otherwise(call.status)));
      });
      for (const name of ["error", "timeout"]) call.addEventListener(name, () => reject(new Told(otherwise(0))));
      call.addEventListener("abort", () => reject(new DOMException("no longer wanted", "AbortError")));
      signal.addEventListener("abort", () => call.abort());
      call.send();
    });
  }
}

function otherwise(state) {
  return { status: state, code: "unexpected_answer", title: "The service gave no usable answer", detail: state === 0 ? "No answer came." : `Something on the way answered with status ${state}.` };
}

function seconds(text) {
  return /^\d+$/.test(text ?? "") ? Number(text) : null;
}

/** A drawing without anything that could act. */
function harmless(root) {
  for (const one of [...root.querySelectorAll("script, foreignObject, style, image, use[href^='http']")]) one.remove();
  for (const one of [root, ...root.querySelectorAll("*")]) {
    for (const { name } of [...one.attributes]) {
      if (name.startsWith("on") || name === "style") one.removeAttribute(name);
    }
  }
  return document.importNode(root, true);
}
