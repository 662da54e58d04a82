// Search on pages that are opened from the file system: a browser runs no worker there, so its script runs in a hidden
// frame instead. Everywhere else this does nothing.
if (location.protocol === "file:") {
  window.Worker = class extends EventTarget {
    constructor(address) {
      super();
      const frame = document.createElement("iframe");
      frame.hidden = true;
      frame.title = "search";
      document.body.append(frame);
      const inner = frame.contentWindow;
      inner.postMessage = (data) => this.dispatchEvent(new MessageEvent("message", { data }));
      inner.importScripts = (...addresses) =>
        addresses.reduce((before, one) => before.then(() => load(inner.document, one)), Promise.resolve());
      this.ready = load(inner.document, address);
      this.inner = inner;
    }

    postMessage(data) {
      this.ready.then(() => this.inner.dispatchEvent(new MessageEvent("message", { data })));
    }

    terminate() {
      this.inner.frameElement?.remove();
    }
  };

  const load = (page, address) =>
    new Promise((resolve, reject) => {
      const script = page.createElement("script");
      script.src = address;
      script.onload = resolve;
      script.onerror = reject;
      page.head.append(script);
    });
}
