// The picture of a panel at the screen's own pixels, and the sentence beneath it.
// A message brings a sentence and how its picture differs from the last that came whole: a JPEG
// of the part that moved, and where it belongs.  Pictures of the slider's other places come
// before the hand asks for them; they are kept, and shown as soon as the slider stands there.

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

const UNPACKED = 32e6; // pixels of a sweep kept ready to paint; the rest stays packed

/** What is known of one slider while all else stands, and what the hand asked for. */
class Sweep {
  constructor(number, hand) {
    this.number = number; // the kernel's; 0 while its first picture is on the way
    this.hand = hand;
    this.base = null; // the picture that all others differ from
    this.pictures = new Map(); // by the slider's place, in steps
    this.room = UNPACKED;
    this.turns = new Map(); // when the hand was last at a place
    this.asked = null;
    this.shownTurn = 0;
  }

  /** Unpack a kept picture, so that it can be painted in the very frame that moves the slider. */
  async unpack(picture) {
    if (!picture.bytes || this.room < 0) return;
    const image = await createImageBitmap(new Blob([picture.bytes], { type: "image/jpeg" }));
    this.room -= image.width * image.height;
    picture.image = image;
  }

  /** Whether a place's picture is newer than the one on the canvas. */
  newer(place) {
    return (this.turns.get(place) ?? Infinity) > this.shownTurn;
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
  const frame = document.createElement("div"); // on a phone the picture is moved within it
  frame.className = "mk-frame";
  frame.append(canvas);
  el.append(frame, sentence);
  const pen = canvas.getContext("2d", { alpha: false });

  let sweep = new Sweep(0, -1);
  let last = 0; // the newest sweep that the kernel told of
  let turn = 0;
  let order = 0;
  let painted = 0;
  let canvasHas = {}; // of which sweep, and where it differs from its base

  /** The picture that all others of its sweep differ from. */
  const lay = async (of, bytes) => {
    const image = await decoded(bytes);
    of.base = await createImageBitmap(image);
    image.close();
  };

  const paint = (of, image, { at, words, failed }) => {
    if (of.base && !failed) {
      const { width, height } = of.base;
      if (canvas.width !== width || canvas.height !== height) {
        [canvas.width, canvas.height, canvasHas] = [width, height, {}];
      }
      if (canvasHas.sweep !== of) pen.drawImage(of.base, 0, 0);
      else if (canvasHas.box) pen.drawImage(of.base, ...canvasHas.box, ...canvasHas.box);
      canvasHas = { sweep: of, box: null };
      if (image) {
        pen.drawImage(image, ...at);
        const { displayWidth: width = image.width, displayHeight: height = image.height } = image;
        canvasHas.box = [...at, width, height];
      }
    }
    if (sentence.textContent !== words) sentence.textContent = words;
    sentence.className = failed ? "mk-failed" : "mk-said";
  };

  const show = async (place, picture) => {
    const of = sweep;
    of.shownTurn = of.turns.get(place) ?? (turn += 1);
    const mine = (order += 1);
    let image = picture.image;
    if (!of.base || (picture.bytes && !image)) {
      const coming = picture.bytes && decoded(picture.bytes);
      await of.laid;
      image = await coming;
    }
    if (mine > painted) {
      painted = mine;
      paint(of, image, picture);
    }
    if (image !== picture.image) image?.close();
  };

  const hear = (message, buffers) => {
    const { sweep: number, hand, place, shown, kept, whole, ...picture } = message;
    if (number < last || (number === last && number !== sweep.number)) return; // ended here
    if (number > last) {
      const before = sweep;
      sweep = new Sweep((last = number), hand);
      if (hand >= 0 && hand === before.hand) {
        [sweep.turns, sweep.asked] = [before.turns, before.asked];
      }
    }
    if (whole) sweep.laid = lay(sweep, buffers[0]);
    else picture.bytes = buffers[0];
    if (place !== null && !kept && !picture.failed) {
      sweep.pictures.set(place, picture);
      if (!shown) sweep.unpack(picture);
    }
    const known = kept ? sweep.pictures.get(place) : picture;
    if (known && (shown || place === sweep.asked) && sweep.newer(place)) show(place, known);
  };
  model.on("msg:custom", hear);

  /** A hand moved a slider: show what is kept for it, before the kernel has heard of it. */
  const slid = (hand, slider) => {
    const [low, step] = [slider.get("min"), slider.get("step")];
    const place = Math.round((slider.get("value") - low) / step);
    if (hand !== sweep.hand) sweep = new Sweep(0, hand);
    sweep.asked = place;
    sweep.turns.set(place, (turn += 1));
    const known = sweep.pictures.get(place);
    if (known) show(place, known);
  };

  const stops = [];
  for (const [hand, reference] of model.get("hands").entries()) {
    model.widget_manager.get_model(reference.replace("IPY_MODEL_", "")).then((slider) => {
      const moved = () => slid(hand, slider);
      slider.on("change:value", moved);
      stops.push(() => slider.off("change:value", moved));
    }, console.error);
  }

  // The kernel draws for the pixels that there are: no more, no fewer.
  let told = 0;
  let later;
  const tell = () => {
    const pixels = Math.round(canvas.clientWidth * devicePixelRatio);
    const narrow = canvas.clientWidth > frame.clientWidth + 1;
    if (pixels && pixels !== told) model.send({ pixels: (told = pixels), narrow });
  };
  const observer = new ResizeObserver(() => {
    clearTimeout(later);
    later = setTimeout(tell, told ? 150 : 0);
  });
  observer.observe(el);

  /** A pointer or the focus came to rest on a slider: what lies ahead of it is wanted. */
  let touching;
  let resting = -1; // the hand that the kernel was told of
  const touch = (event) => {
    const slider = event.target.closest?.(".mk-slider");
    const hand = Number(/mk-hand-(\d+)/.exec(slider?.className)?.[1] ?? -1);
    clearTimeout(touching);
    if (hand < 0 || (hand === resting && hand === sweep.hand && sweep.number)) return;
    touching = setTimeout(() => model.send({ touched: (resting = hand) }), 60);
  };

  /** Neither rests on any slider now: nothing more is wanted. */
  let leaving;
  const leave = () => {
    clearTimeout(leaving);
    leaving = setTimeout(() => {
      const panel = el.closest(".mk-panel");
      if (resting < 0 || panel?.querySelector(".mk-slider:is(:hover, :focus-within)")) return;
      model.send({ left: resting });
      resting = -1;
    }, 100);
  };

  // The sliders stand in the same panel, and come and go with its choices.
  let names;
  requestAnimationFrame(() => {
    const panel = el.closest(".mk-panel");
    const groups = panel?.querySelector(".mk-groups");
    if (!groups) return;
    names = new MutationObserver(() => name(panel));
    names.observe(groups, { subtree: true, childList: true });
    name(panel);
    const heard = { pointerover: touch, focusin: touch, pointerout: leave, focusout: leave };
    for (const [kind, act] of Object.entries(heard)) {
      groups.addEventListener(kind, act);
      stops.push(() => groups.removeEventListener(kind, act));
    }
  });

  return () => {
    observer.disconnect();
    names?.disconnect();
    for (const stop of stops) stop();
    for (const timer of [touching, leaving, later]) clearTimeout(timer);
    model.off("msg:custom", hear);
  };
}

export default { render };
