// Fetches the program and starts it, hands it what only the page can make, and
// speaks for it when it has stopped: plain script, so that it works where
// WebAssembly doesn't.
"use strict";

globalThis.spindlewise = (() => {
  const STORED_UNDER = "spindlewise:";

  /** The compiled program, for workers to share. */
  let program;

  /** Why the program is not to be had, as a sentence for whoever looks at the page. */
  class Missing extends Error {}

  async function start() {
    try {
      if (typeof WebAssembly !== "object") {
        throw new Missing("This browser can’t run WebAssembly. Use one from the last years: Chromium, Firefox or Safari.");
      }
      if (typeof wasm_bindgen !== "function") {
        throw new Missing("A part of it is missing. Reload with a network, or get the file again.");
      }
      program = await compiled(document.getElementById("program"));
      await wasm_bindgen({ module_or_path: program });
    } catch (error) {
      stopped("Spindlewise could not start", sentence(error), error);
    }
  }

  /** Beside the page, or, when all is in one file, inside it. */
  async function compiled(place) {
    if (place.localName !== "link") return WebAssembly.compileStreaming(unpacked(place.textContent));
    const answer = await fetch(place.href).catch(() => undefined);
    if (!answer?.ok) {
      throw new Missing("A part of it could not be fetched. Reload when there is a network.");
    }
    const typed = answer.headers.get("content-type") === "application/wasm";
    return typed ? WebAssembly.compileStreaming(answer) : WebAssembly.compile(await answer.arrayBuffer());
  }

  /** As if it came from a server, so that it is compiled while it is unpacked. */
  function unpacked(text) {
    const packed = atob(text);
    // A plain loop: `Uint8Array.from` takes ten times as long, which one waits for.
    const bytes = new Uint8Array(packed.length);
    for (let at = 0; at < packed.length; at += 1) bytes[at] = packed.charCodeAt(at);
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
    return new Response(stream, { headers: { "content-type": "application/wasm" } });
  }

  function sentence(error) {
    if (error instanceof Missing) return error.message;
    if (error instanceof WebAssembly.RuntimeError) return "It met a fault of its own.";
    return "The program is damaged, or this browser is too old for it: it takes one from 2023 or later. Reload, or get it again.";
  }

  /**
   * A worker that runs the same program. Its script is made here, so that it
   * is the same one from a server and from a file on disk.
   */
  function worker() {
    const bindings = document.getElementById("bindings");
    const first = bindings.src ? `importScripts(${JSON.stringify(bindings.src)});` : bindings.textContent;
    // An error in a promise would not be told to the page.
    const rest = `
      onmessage = ({ data: program }) => {
        const early = [];
        onmessage = ({ data }) => early.push(data);
        wasm_bindgen({ module_or_path: program }).then(
          () => early.forEach((data) => dispatchEvent(new MessageEvent("message", { data }))),
          (error) => setTimeout(() => { throw error; }),
        );
      };`;
    const address = URL.createObjectURL(new Blob([first, rest], { type: "text/javascript" }));
    const made = new Worker(address);
    made.postMessage(program);
    return made;
  }

  /** Puts a plain page in place of what no longer works. */
  function stopped(heading, what, error) {
    if (document.getElementById("stopped")) return;
    // Looked at first: after it, what was typed last is gone.
    const stored = readStore();
    const rescued = JSON.stringify({ backup: 1, stored: stored ?? {}, typed: typed() }, null, 1);
    const intact = stored
      ? "What was saved before is intact and kept in this browser."
      : "This browser refuses storage, so nothing is kept: save the file first, it holds what stands in the boxes of this page.";
    const page = element("main", { id: "stopped" });
    const details = element("details", {}, element("summary", {}, "What to tell whoever mends it"));
    details.append(element("pre", {}, String(error?.stack ?? error)));
    const reload = element("button", { type: "button", className: "button primary" }, "Reload");
    reload.onclick = () => location.reload();
    const save = element("button", { type: "button" }, "Save everything stored as a file");
    save.onclick = () => download(rescued);
    page.append(
      element("h1", { tabIndex: -1 }, heading),
      element("p", {}, what),
      element("p", {}, `${intact} Nothing on this page works until it is reloaded.`),
      element("p", { className: "actions" }, reload, save),
      element("p", { className: "hint" }, "The file holds every saved scenario word for word, with what stood in the boxes of this page. It can be imported again on the page Scenarios."),
      details,
    );
    document.body.replaceChildren(page);
    document.title = `${heading} – Spindlewise`;
    page.firstElementChild.focus();
  }

  function element(name, properties, ...content) {
    const made = Object.assign(document.createElement(name), properties);
    made.append(...content);
    return made;
  }

  /** All that is stored, word for word; nothing where the browser refuses it. */
  function readStore() {
    try {
      const keys = Object.keys(localStorage).filter((key) => key.startsWith(STORED_UNDER));
      return Object.fromEntries(keys.map((key) => [key, localStorage.getItem(key)]));
    } catch {
      return undefined;
    }
  }

  /** What stands in the boxes of this page. */
  function typed() {
    const boxes = [...document.querySelectorAll("main input[type=text]")].filter((box) => box.value);
    return Object.fromEntries(boxes.map((box) => [box.id, box.value]));
  }

  function download(text) {
    const link = element("a", { download: "everything.spindlewise.json" });
    link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    link.click();
  }

  // A fault that the program could not catch, such as a full stack or a refusal
  // of the browser in the middle of it: what it holds is not to be trusted then.
  function stoppedBy(error) {
    if (/wasm/.test(error?.stack)) stopped("Spindlewise has stopped", "It met a fault of its own.", error);
  }
  addEventListener("error", ({ error }) => stoppedBy(error));
  addEventListener("unhandledrejection", ({ reason }) => stoppedBy(reason));

  /** The service worker's registration: it keeps the app on this device. */
  let kept;

  /** Keeps the app for when there is no network; says so when a newer version is ready. */
  async function keep() {
    kept = await navigator.serviceWorker.register("service-worker.js");
    const tell = () => newer() && dispatchEvent(new Event("newversion"));
    tell();
    kept.addEventListener("updatefound", () => kept.installing.addEventListener("statechange", tell));
    // A tablet in a shop stays open for weeks.
    document.addEventListener("visibilitychange", () => document.hidden || kept.update().catch(() => {}));
  }

  /** Whether a newer version waits to take the place of this one. */
  function newer() {
    return Boolean(kept?.waiting && navigator.serviceWorker.controller);
  }

  /** Reloads this page in the newer version. */
  function renew() {
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
    kept.waiting.postMessage("take over");
  }

  // When all of the page is there, or all that will ever be: of a file that was
  // cut off the rest is missing, and that is said.
  addEventListener("DOMContentLoaded", async () => {
    await start();
    // Not before: keeping fetches everything once more. Without it the app works
    // all the same, only not without a network.
    const served = location.protocol.startsWith("http") && document.getElementById("bindings")?.src;
    if (served && "serviceWorker" in navigator) keep().catch(console.warn);
  });
  return { newer, renew, stopped, worker };
})();
