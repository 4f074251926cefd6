// The picture of a panel at the screen's own pixels, and the sentence beneath it.
// A message brings what changed: a JPEG of the part that moved, where it belongs, and the words.

async function decoded(bytes) {
  if (globalThis.ImageDecoder) {
    const decoder = new ImageDecoder({ type: "image/jpeg", data: bytes });
    try {
      return (await decoder.decode()).image;
    } finally {
      decoder.close();
    }
  }
  // Older browsers, and pages without a secure address: the same, some 15 ms later.
  return createImageBitmap(new Blob([bytes], { type: "image/jpeg" }));
}

/** Screen readers hear a slider's value but not its name; each gets the words beside it. */
function name(panel) {
  for (const slider of panel.querySelectorAll(".mk-slider")) {
    const handle = slider.querySelector("[role=slider]");
    const words = slider.querySelector(".widget-label")?.textContent;
    if (handle && words) handle.setAttribute("aria-label", words);
  }
}

function render({ model, el }) {
  const canvas = document.createElement("canvas");
  canvas.className = "mk-picture";
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", model.get("title"));
  [canvas.width, canvas.height] = model.get("shape");
  const sentence = document.createElement("p");
  sentence.setAttribute("role", "status");
  el.append(canvas, sentence);
  const pen = canvas.getContext("2d", { alpha: false });

  let painted = Promise.resolve();
  const hear = (message, buffers) => {
    const coming = buffers.length ? decoded(buffers[0]) : null;
    painted = painted
      .then(async () => {
        const image = await coming;
        if (image) {
          const [width, height] = message.size;
          if (canvas.width !== width || canvas.height !== height) {
            [canvas.width, canvas.height] = [width, height];
          }
          pen.drawImage(image, ...message.at);
          image.close();
        }
        if (sentence.textContent !== message.words) sentence.textContent = message.words;
        sentence.className = message.failed ? "mk-failed" : "mk-said";
      })
      .catch(console.error);
  };
  model.on("msg:custom", hear);

  // The kernel draws for the pixels that there are: no more, no fewer.
  let told = 0;
  let later;
  const tell = () => {
    const pixels = Math.round(el.clientWidth * devicePixelRatio);
    if (pixels && pixels !== told) model.send({ pixels: (told = pixels) });
  };
  const observer = new ResizeObserver(() => {
    clearTimeout(later);
    later = setTimeout(tell, told ? 150 : 0);
  });
  observer.observe(el);

  // The sliders stand in the same panel, and come and go with its choices.
  let names;
  requestAnimationFrame(() => {
    const panel = el.closest(".mk-panel");
    const groups = panel?.querySelector(".mk-groups");
    if (!groups) return;
    names = new MutationObserver(() => name(panel));
    names.observe(groups, { subtree: true, childList: true });
    name(panel);
  });

  return () => {
    observer.disconnect();
    names?.disconnect();
    model.off("msg:custom", hear);
  };
}

export default { render };
