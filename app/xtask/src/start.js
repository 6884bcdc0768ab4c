// Starts the page: unpacks the calculation module and hands it to the glue above.
{
  const notice = document.getElementById("notice");
  const say = (text) => {
    notice.textContent = text;
    notice.setAttribute("role", "alert");
    document.body.append(notice);
  };

  // A module that has trapped keeps answering from a broken state, so nothing may be read off it any more.
  const stop = (reason) => {
    // Too deep a stack is told as a range error.
    if (!(reason instanceof WebAssembly.RuntimeError || reason instanceof RangeError)) return;
    for (const part of document.body.children) part.inert = part !== notice;
    say("A calculation has stopped in an unexpected way. Do not use the figures on the page. Reload to go on, or save that project to a file first. ");
    // The page leaves its last good project here as text, so that the module need not be asked.
    const { lastGood, lastGoodName, computing } = globalThis.sisterframe ?? {};
    // Its curves stopped the page: the next visit must not stop again.
    if (computing) try { localStorage.setItem("sisterframe.opening", "1"); } catch {}
    if (!lastGood) return;
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([lastGood], { type: "application/json" }));
    link.download = lastGoodName;
    link.textContent = "Save the last good project";
    notice.append(link);
  };
  addEventListener("error", (event) => stop(event.error));
  addEventListener("unhandledrejection", (event) => stop(event.reason));

  const start = async () => {
    const packed = Uint8Array.from(atob(document.getElementById("module").textContent), (c) => c.charCodeAt(0));
    const module = await WebAssembly.compile(unpackModule(packed));
    await wasm_bindgen({ module_or_path: module });
    notice.remove();
  };

  if (typeof WebAssembly === "undefined") {
    say("This browser is too old for the page, or has WebAssembly switched off. Use a browser from the middle of 2023 or later.");
  } else {
    start().catch((error) =>
      say("The page could not start: its calculation module is damaged, was refused or has stopped. Reload it; if that does not help, get a fresh copy of the file. The browser says: " + error.message));
  }
}
