// Starts the page: unpacks the calculation module and hands it to the glue above.
// A worker made from this script's text has no document and takes the glue only.
if (typeof document !== "undefined") {
  const notice = document.getElementById("notice");
  const say = (text) => {
    notice.textContent = text;
    notice.setAttribute("role", "alert");
    document.body.append(notice);
  };

  // A module that has trapped keeps answering from a broken state, so nothing may be read off it any more.
  const stop = (reason) => {
    if (!(reason instanceof WebAssembly.RuntimeError)) return;
    for (const part of document.body.children) part.inert = part !== notice;
    say("A calculation has stopped in an unexpected way. Do not use the figures on the page. Reload to go on from the last saved state.");
  };
  addEventListener("error", (event) => stop(event.error));
  addEventListener("unhandledrejection", (event) => stop(event.reason));

  (async () => {
    if (typeof WebAssembly === "undefined" || typeof DecompressionStream === "undefined") {
      say("This browser is too old for the page, or has WebAssembly switched off. Use a browser from the middle of 2023 or later.");
      return;
    }
    try {
      const text = document.getElementById("module").textContent;
      const packed = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
      const unpacked = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
      const module = await WebAssembly.compile(await new Response(unpacked).arrayBuffer());
      await wasm_bindgen({ module_or_path: module });
      notice.remove();
    } catch (error) {
      say("The page could not start: its calculation module is damaged or was refused. Get a fresh copy of the file. The browser says: " + error.message);
    }
  })();
}
