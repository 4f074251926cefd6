// The bench page.  The kernel sends what stands on it as one table; what is typed goes back by
// key.  Nothing is computed here but where a line is drawn.

const SVG = "http://www.w3.org/2000/svg";

/** An element with attributes and children; text is text, never markup. */
function make(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (value !== false && value !== undefined) made.setAttribute(name, value === true ? "" : value);
  }
  made.append(...children.filter((child) => child !== null && child !== undefined));
  return made;
}

function shape(tag, attributes, text) {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  if (text !== undefined) made.textContent = text;
  return made;
}

const minutes = (number) => (number ? `${number} minute${number === 1 ? "" : "s"}` : "no time");
const SIGNS = { good: "sound", watch: "doubtful", wrong: "wrong" };

// -- the engine, to scale, with the size that is asked for lit ----------------------------

/** The same size at any place of a list: gears[2].teeth as gears.teeth. */
const bare = (key) => key.replace(/\[\d+\]/g, "");
const place = (key) => Number(key.match(/\[(\d+)\]/)?.[1] ?? 1) - 1;

class Side {
  constructor(engine) {
    this.engine = engine;
    const across = [0, ...engine.axles];
    for (const [, from, to] of engine.rooms) across.push(from, to);
    for (const [, from, to] of engine.parts) across.push(from, to);
    const left = Math.min(...across, -engine.tread / 2);
    const right = Math.max(...across, engine.axles.at(-1) + engine.tread / 2);
    const top = Math.max(engine.tread, engine.shaft, ...engine.rooms.map((room) => room[4]));
    this.scale = Math.min(400 / (right - left), 150 / top);
    this.left = 250 - (this.scale * (right + left)) / 2;
    this.high = this.scale * top + 92;
    this.svg = shape("svg", { viewBox: `0 0 500 ${this.high}`, class: "mk-engine", role: "img" });
    this.draw();
    this.over = shape("g", {});
    this.svg.append(this.over);
  }

  x(meters) { return this.left + this.scale * meters; }
  y(meters) { return this.high - 46 - this.scale * meters; }

  bar(from, to, low, high, name) {
    return shape("rect", {
      x: this.x(Math.min(from, to)), y: this.y(Math.max(low, high)), class: name,
      width: Math.max(this.scale * Math.abs(to - from), 0.5), height: Math.max(this.scale * Math.abs(high - low), 0.5),
    });
  }

  round(x, y, across, name) {
    return shape("circle", { cx: this.x(x), cy: this.y(y), r: Math.max((this.scale * across) / 2, 0.5), class: name });
  }

  draw() {
    const { engine, svg } = this;
    for (const [name, from, to, low, high] of engine.rooms) {
      svg.append(this.bar(from, to, low, high, "room"));
      svg.append(shape("text", { x: this.x(from) + 5, y: this.y(high) - 5, "font-size": 14 }, name));
    }
    svg.append(shape("rect", { x: 12, y: this.y(0), width: 476, height: 5, class: "rail" }));
    for (const at of engine.axles) {
      svg.append(this.round(at, engine.tread / 2, engine.tread, "thing"));
      svg.append(this.round(at, engine.tread / 2, engine.axle, "thing"));
      const pin = { cx: this.x(at + 0), cy: this.y(engine.tread / 2 + engine.throw), r: 3, class: "thing" };
      svg.append(shape("circle", pin));
    }
    for (const [at, height, across] of engine.gears) svg.append(this.round(at, height, across, "thing"));
    const ends = engine.parts.flatMap(([, from, to]) => [from, to]);
    const half = engine.shaft_diameter / 2;
    svg.append(this.bar(Math.min(...ends), Math.max(...ends), engine.shaft - half, engine.shaft + half, "thing"));
    for (const [name, from, to, across] of engine.parts) {
      svg.append(this.bar(from, to, engine.shaft - across / 2, engine.shaft + across / 2, "solid"));
      if (name !== "worm") {
        svg.append(shape("text", { x: this.x((from + to) / 2), y: this.y(engine.shaft) + 5, "font-size": 14, "text-anchor": "middle" }, name));
      }
    }
  }

  /** A dimension between two points, level or upright, with its words. */
  size(one, other, at, words, upright) {
    const [a, b] = upright ? [[at, this.y(one)], [at, this.y(other)]] : [[this.x(one), at], [this.x(other), at]];
    this.over.append(shape("path", { d: `M${a}L${b}`, class: "lit" }));
    for (const [tip, sign] of [[a, 1], [b, -1]]) {
      const turned = upright ? (a[1] < b[1] ? sign : -sign) : (a[0] < b[0] ? sign : -sign);
      const [x, y] = tip;
      const d = upright ? `M${x},${y}l-5,${12 * turned}h10z` : `M${x},${y}l${12 * turned},-5v10z`;
      this.over.append(shape("path", { d, class: "lithead" }));
    }
    const middle = upright ? [at + 9, (a[1] + b[1]) / 2 + 5] : [(a[0] + b[0]) / 2, at - 8];
    this.text(middle[0], middle[1], words, upright ? "start" : "middle");
  }

  text(x, y, words, anchor = "middle") {
    const within = Math.min(Math.max(x, 50), 450);
    this.over.append(shape("text", { x: within, y, class: "littext", "font-size": 16, "text-anchor": anchor }, words));
  }

  ring(x, y, across, words) {
    this.over.append(this.round(x, y, across, "litarea"));
    this.text(this.x(x), this.y(y) - (this.scale * across) / 2 - 8, words);
  }

  part(name, words) {
    const found = this.engine.parts.find((part) => part[0] === name);
    if (!found) return;
    const [, from, to, across] = found;
    const shaft = this.engine.shaft;
    this.over.append(this.bar(from, to, shaft - across / 2, shaft + across / 2, "litarea"));
    this.text(this.x((from + to) / 2), this.y(shaft + across / 2) - 9, words);
  }

  /** Light what a key asks for. */
  light(key, words) {
    this.over.replaceChildren();
    this.svg.setAttribute("aria-label", `Side view of the engine${words ? `; lit: ${words}` : ""}`);
    if (!key) return;
    const { engine } = this;
    const [first, tread, shaft] = [engine.axles[0], engine.tread, engine.shaft];
    const under = this.y(0) + 30;
    const room = engine.rooms[place(key)] ?? engine.rooms[0];
    const gear = engine.gears[engine.gears.length - 1 - place(key)] ?? engine.gears[0];
    const part = (name) => engine.parts.find((one) => one[0] === name);
    const motor = part("motor");
    const known = {
      "locomotive.driver_diameter": () => this.size(0, tread, this.x(first - tread / 2) - 14, "on the tread", true),
      "locomotive.axle_diameter": () => this.ring(gear[0], tread / 2, engine.axle * 1.4, "axle"),
      "locomotive.driver_axles": () => this.size(first, engine.axles.at(-1), under, "from the first axle to each"),
      "locomotive.center_of_gravity": () => { this.size(first, engine.gravity, under, "where it balances"); this.over.append(this.bar(engine.gravity, engine.gravity, 0, shaft, "lit")); },
      "locomotive.crank_throw": () => this.size(tread / 2, tread / 2 + engine.throw, this.x(first) - 12, "throw", true),
      "locomotive.crankpin_clearance": () => this.ring(first, tread / 2 + engine.throw, engine.throw, "pin in its rod"),
      "locomotive.length": () => this.size(Math.min(...engine.rooms.map((r) => r[1])), Math.min(...engine.rooms.map((r) => r[1])) + engine.long, under, "over the couplers, tender too"),
      "envelope.shaft_height": () => this.size(0, shaft, this.x(Math.max(...engine.parts.map((p) => p[2]))) + 18, "shaft over the rail", true),
      "envelope.rooms.from": () => this.size(0, room[1], under, "front end"),
      "envelope.rooms.to": () => this.size(0, room[2], under, "rear end"),
      "envelope.rooms.height": () => this.size(0, (room[3] + room[4]) / 2, this.x(room[1]) - 12, "center", true),
      "envelope.rooms.diameter": () => this.size(room[3], room[4], this.x(room[1]) - 12, "inside", true),
      "envelope.rooms.bottom": () => this.size(0, room[3], this.x(room[2]) + 12, "bottom", true),
      "envelope.rooms.top": () => this.size(0, room[4], this.x(room[2]) + 12, "top", true),
      "track.rail_unevenness": () => this.over.append(shape("rect", { x: 12, y: this.y(0) - 3, width: 476, height: 10, class: "litarea" })),
      "as_is.motor.body_diameter": () => this.size(shaft - motor[3] / 2, shaft + motor[3] / 2, this.x(motor[2]) + 14, "over the case", true),
      "as_is.motor.body_length": () => this.size(motor[1], motor[2], this.y(shaft + motor[3] / 2) - 14, "without the shaft"),
      "as_is.worm.length": () => this.size(part("worm")[1], part("worm")[2], this.y(shaft + part("worm")[3] / 2) - 12, "thread"),
      "as_is.worm.outside_diameter": () => this.size(shaft - part("worm")[3] / 2, shaft + part("worm")[3] / 2, this.x(part("worm")[1]) - 10, "over the thread", true),
    };
    const name = bare(key);
    if (known[name]) known[name]();
    else if (name.startsWith("as_is.motor")) this.part("motor", words);
    else if (name.startsWith("as_is.worm") || name.startsWith("as_is.alignment")) this.part("worm", words);
    else if (name.startsWith("as_is.gears")) this.ring(gear[0], gear[1], gear[2], words);
    else if (name.startsWith("as_is.mesh")) this.ring(gear[0], gear[1] + gear[2] / 2, gear[2] / 2, words);
    else if (name.startsWith("as_is.springs")) this.ring(first, tread / 2, tread / 2, words);
    else if (name.startsWith("envelope.rooms") && room) this.over.append(this.bar(room[1], room[2], room[3], room[4], "litarea"));
    else if (name.startsWith("locomotive.weight")) {
      const low = name.endsWith("drivers") ? engine.axles : [...engine.axles, Math.min(...engine.rooms.map((r) => r[1]))];
      for (const at of low) this.over.append(shape("path", { d: `M${this.x(at)},${this.y(0) + 34}v-24m-6,9l6,-10 6,10`, class: "lit" }));
    }
  }
}

// -- runs beside the model -----------------------------------------------------------------

function chart(curve) {
  const [wide, high, left, foot] = [520, 210, 64, 40];
  const svg = shape("svg", { viewBox: `0 0 ${wide} ${high}`, class: "mk-curve", role: "img",
    "aria-label": `${curve.words} over volts: the model's band and ${curve.runs.length} runs` });
  const most = Math.max(...curve.high, ...curve.runs.map((run) => run[1])) * 1.08 || 1;
  const end = curve.volts.at(-1);
  const x = (volts) => left + ((wide - left - 14) * volts) / end;
  const y = (value) => high - foot - ((high - foot - 24) * value) / most;
  const line = (values) => values.map((value, n) => `${x(curve.volts[n])},${y(value)}`);
  svg.append(shape("path", { d: `M${line(curve.low).join("L")}L${line(curve.high).reverse().join("L")}z`, class: "band" }));
  svg.append(shape("path", { d: `M${line(curve.middle).join("L")}`, class: "mid" }));
  svg.append(shape("path", { d: `M${left},14V${high - foot}H${wide - 10}`, class: "axis" }));
  const step = [0.5, 1, 2, 3, 5, 10].find((one) => end / one <= 8) ?? 20;
  for (let volts = 0; volts <= end; volts += step) {
    svg.append(shape("text", { x: x(volts), y: high - foot + 18, "font-size": 14, "text-anchor": "middle" }, `${volts}`));
  }
  svg.append(shape("text", { x: wide - 12, y: high - 4, "font-size": 14, "text-anchor": "end" }, "volts"));
  const tick = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000].find((one) => (most * curve.per) / one <= 5) ?? 10000;
  for (let shown = tick; shown <= most * curve.per; shown += tick) {
    svg.append(shape("text", { x: left - 8, y: y(shown / curve.per) + 5, "font-size": 14, "text-anchor": "end" }, `${shown}`));
  }
  svg.append(shape("text", { x: 6, y: 14, "font-size": 14 }, `${curve.words}, ${curve.unit}`));
  for (const [volts, value, belongs] of curve.runs) {
    if (belongs) svg.append(shape("circle", { cx: x(volts), cy: y(value), r: 5, class: "point" }));
    else {
      svg.append(shape("path", { d: `M${x(volts) - 6},${y(value) - 6}l12,12m0,-12l-12,12`, class: "stray" }));
      svg.append(shape("text", { x: x(volts), y: y(value) - 11, class: "straytext", "font-size": 14, "text-anchor": "middle" }, "does not belong"));
    }
  }
  return svg;
}

// -- the page --------------------------------------------------------------------------------

class Page {
  constructor(model, el) {
    this.model = model;
    this.card = 0;
    this.boxes = new Map(); // key -> every input for it
    this.focused = null;
    this.root = make("div", { class: "mk-panel mk-bench" });
    el.append(this.root);
    this.style = make("div");
    this.style.innerHTML = model.get("style_sheet"); // the kit's own clothes, nothing typed
    this.root.before(this.style);
    this.build();
    this.paint();
    this.rest();
    model.on("change:page", () => this.paint());
    model.on("change:beside", () => this.say());
    model.on("change:answers", () => this.answer());
    model.on("change:curves", () => this.paintLater());
    model.on("change:worth", () => this.paintLater());
  }

  get page() { return this.model.get("page"); }

  send(message) {
    this.model.send(message);
    this.rest();
  }

  /** Ask for what takes longer once the hands rest, the longest last. */
  rest() {
    this.still();
    this.pauses = Object.entries({ rest: 250, look: 700, weigh: 2500 }).map(
      ([act, pause]) => setTimeout(() => this.model.send({ do: act }), pause));
  }

  still() {
    for (const pause of this.pauses ?? []) clearTimeout(pause);
  }

  build() {
    this.heading = make("h3", {});
    this.file = make("span", { class: "mk-file" });
    this.back = make("button", { type: "button", onclick: () => this.send({ do: "undo" }) }, "Undo");
    this.metric = make("button", { type: "button", onclick: () => this.send({ do: "system", system: "metric" }) }, "mm");
    this.inch = make("button", { type: "button", onclick: () => this.send({ do: "system", system: "inch" }) }, "in");
    this.put = make("button", { type: "button", title: "Every page opens on the engine that lies on the bench.", onclick: () => this.send({ do: "put" }) }, "on the bench");
    this.slate = make("button", { type: "button", "aria-pressed": "false", onclick: () => this.dark() }, "dark");
    this.banner = make("p", { class: "mk-banner", role: "alert", hidden: true });
    this.five = make("section", { class: "mk-five", "aria-label": "The first five readings" });
    this.tabs = make("div", { role: "tablist", "aria-label": "A quarter of an hour each" });
    this.picture = make("div", {});
    this.hint = make("p", { class: "mk-quiet", "aria-live": "polite" });
    this.desk = make("div", { role: "tabpanel" });
    this.told = make("section", { class: "mk-told", "aria-label": "What can be answered now", "aria-live": "polite" });
    this.next = make("p", { class: "mk-next" });
    this.lists = make("div", {});
    this.charts = make("div", {});
    this.told.append(this.next, this.charts, this.lists);
    this.root.append(
      make("div", { class: "mk-head" }, this.heading, this.file, this.put, this.back, make("span", {}, this.metric, this.inch), this.slate),
      this.banner, this.five,
      make("div", { class: "mk-desk" }, make("section", { class: "mk-work" }, this.tabs, this.picture, this.hint, this.desk), this.told),
    );
  }

  dark() {
    const on = this.root.classList.toggle("mk-dark");
    this.slate.setAttribute("aria-pressed", String(on));
  }

  /** Everything that the kernel's table changes; boxes are made anew only when others are asked. */
  paint() {
    const page = this.page;
    this.heading.textContent = page.title || "Your engine on the bench";
    this.file.textContent = page.undo ? `${page.file}, saved` : page.file;
    this.back.disabled = !page.undo;
    this.put.setAttribute("aria-pressed", String(page.on_bench));
    this.put.disabled = Boolean(page.lacks.length);
    this.metric.setAttribute("aria-pressed", String(page.system === "metric"));
    this.inch.setAttribute("aria-pressed", String(page.system === "inch"));
    this.banner.hidden = !page.unsaved;
    this.banner.replaceChildren(page.unsaved ?? "",
      make("button", { type: "button", onclick: () => this.send({ do: "again" }) }, "Read the file again"));
    const asked = JSON.stringify([page.system, page.first.map((b) => b.key), page.cards.map((c) => c.readings.map((r) => r.rows.map((row) => row.boxes.map((b) => b.key))))]);
    if (asked !== this.asked) {
      this.asked = asked;
      this.layOut();
    }
    this.fill();
    const drawn = JSON.stringify(page.engine);
    if (drawn !== this.drawn) {
      this.drawn = drawn;
      this.side = new Side(page.engine);
      this.picture.replaceChildren(this.side.svg);
    }
    this.light();
    this.answer();
  }

  /** The boxes, as far as which there are. */
  layOut() {
    const held = this.focused;
    const onTab = this.tabs.contains(document.activeElement);
    this.boxes.clear();
    this.said = new Map();
    const [scale, weight, drivers, start, volts, way, time] = this.page.first;
    this.five.replaceChildren();
    for (const [words, some] of [
      ["Scale", [scale]], ["Weight of the engine", [weight]], ["Weight on its drivers", [drivers]],
      ["Lowest voltage that starts it", [start]], ["One timed run: volts, way, time", [volts, way, time]],
    ]) {
      const last = some.at(-1).key;
      const said = make("span", { class: "mk-said", "aria-live": "polite" });
      this.said.set(last, said);
      const inputs = some.map((box) => this.line(box, some.length > 1 ? box.words : words));
      this.five.append(make("span", {}, words), some.length > 1 ? make("div", { class: "mk-run" }, ...inputs) : inputs[0], said);
    }
    this.tabs.replaceChildren(...this.page.cards.map((card, n) => {
      const tab = make("button", { type: "button", role: "tab", onclick: () => this.open(n),
        onkeydown: (event) => this.arrow(event, n) });
      return tab;
    }));
    this.open(Math.min(this.card, this.page.cards.length - 1));
    if (onTab) this.tabs.children[this.card].focus();
    else if (held) this.boxes.get(held)?.[0]?.focus();
  }

  arrow(event, n) {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!step) return;
    event.preventDefault();
    this.open((n + step + this.page.cards.length) % this.page.cards.length);
    this.tabs.children[this.card].focus();
  }

  open(n) {
    this.card = n;
    const inFirst = new Set(this.page.first.map((box) => box.key));
    for (const [key, inputs] of this.boxes) {
      const kept = inputs.filter((input) => this.five.contains(input));
      if (kept.length) this.boxes.set(key, kept);
      else this.boxes.delete(key);
    }
    const card = this.page.cards[n];
    this.ticks = new Map();
    this.desk.replaceChildren(make("p", { class: "mk-quiet" }, card.words),
      ...card.readings.filter((one) => one.rows.length).map((one) => this.reading(one, inFirst)));
    [...this.tabs.children].forEach((tab, k) => {
      tab.setAttribute("aria-selected", String(k === n));
      tab.tabIndex = k === n ? 0 : -1;
    });
    this.fill();
  }

  reading(one) {
    const tick = make("span", { class: "mk-tick" });
    const cost = make("p", { class: "mk-quiet" });
    this.ticks.set(one.name, [tick, cost]);
    return make("section", { class: "mk-reading" },
      make("header", {}, make("h4", {}, one.words[0].toUpperCase() + one.words.slice(1)), tick),
      make("p", {}, one.how), cost,
      ...one.rows.map((row) => make("fieldset", {},
        row.title ? make("legend", {}, row.title, row.place && row.boxes.some((box) => box.value)
          ? make("button", { type: "button", onclick: () => this.send({ do: "out", place: row.place }), "aria-label": `take ${row.title} out` }, "take out") : null) : null,
        make("div", { class: "mk-boxes" }, ...row.boxes.map((box) => make("label", { class: "mk-box" }, make("span", {}, box.words), this.line(box, box.words)))))));
  }

  /** One box with its unit, and the line for what is wrong with it. */
  line(box, words) {
    const options = box.options.length
      ? make("select", {}, make("option", { value: "" }, ""), ...box.options.map((one) => make("option", { value: one }, one)))
      : make("input", { type: "text", autocomplete: "off", spellcheck: "false", inputmode: box.unit ? "text" : "text" });
    const input = options;
    input.dataset.key = box.key;
    input.setAttribute("aria-label", box.unit ? `${words}, in ${box.unit} unless written` : words);
    input.addEventListener("change", () => this.enter(box.key, input));
    input.addEventListener("focus", () => { this.focused = box.key; this.light(); });
    input.addEventListener("blur", () => { if (this.focused === box.key) this.focused = null; });
    input.addEventListener("keydown", (event) => {
      if (event.key === "Enter") { event.preventDefault(); this.onward(input); }
      event.stopPropagation(); // the notebook's own keys stay out of the boxes
    });
    const fault = make("small", { class: "mk-fault", role: "alert" });
    input.mkFault = fault;
    const some = this.boxes.get(box.key) ?? [];
    this.boxes.set(box.key, [...some, input]);
    const unit = box.key.endsWith(".time") ? this.watch(input) : make("span", { class: "mk-unit" }, box.unit);
    input.mkUnit = box.key.endsWith(".time") ? null : unit;
    return make("span", {}, make("span", { class: "mk-line" }, input, unit), fault);
  }

  /** A stop-watch beside a time: space or a tap starts it and stops it. */
  watch(input) {
    let began = 0, tick = 0;
    const button = make("button", { type: "button", "aria-label": "stop-watch: start", onkeydown: (event) => event.stopPropagation(), onclick: () => {
      if (!began) {
        began = performance.now();
        button.setAttribute("aria-label", "stop-watch: stop");
        tick = setInterval(() => { button.textContent = ((performance.now() - began) / 1000).toFixed(1); }, 100);
        return;
      }
      clearInterval(tick);
      input.value = `${((performance.now() - began) / 1000).toFixed(1)} s`;
      began = 0;
      button.textContent = "start";
      button.setAttribute("aria-label", "stop-watch: start");
      this.enter(input.dataset.key, input);
    } }, "start");
    return button;
  }

  onward(input) {
    const all = [...this.root.querySelectorAll("input, select")].filter((one) => one.offsetParent);
    const next = all[all.indexOf(input) + 1];
    if (next) { next.focus(); next.select?.(); } else this.enter(input.dataset.key, input);
  }

  enter(key, input) {
    this.send({ do: "enter", typed: { [key]: input.value } });
  }

  /** What stands in the boxes, what stands in for it, and what is wrong with it. */
  fill() {
    const page = this.page;
    const all = [...page.first, ...page.cards.flatMap((card) => card.readings.flatMap((one) => one.rows.flatMap((row) => row.boxes)))];
    for (const box of all) {
      for (const input of this.boxes.get(box.key) ?? []) {
        const value = page.waits[box.key] ?? box.value;
        const busy = document.activeElement === input && input.value !== input.mkShown;
        if (!busy) input.value = value;
        input.mkShown = value;
        if (input.tagName === "INPUT") input.placeholder = box.stand_in ? `assumed ${box.stand_in}` : "";
        else input.options[0].textContent = box.stand_in ? `assumed ${box.stand_in}` : "";
        input.title = box.why;
        // a unit that stands in the box need not stand beside it
        if (input.mkUnit) input.mkUnit.textContent = /[A-Za-zµΩ°%"]/.test(input.value) ? "" : box.unit;
        const fault = page.faults[box.key] ?? "";
        input.setAttribute("aria-invalid", String(Boolean(fault)));
        input.mkFault.textContent = fault;
      }
    }
    [...this.tabs.children].forEach((tab, n) => {
      const card = page.cards[n];
      tab.textContent = `${card.name} ${card.taken}/${card.readings.length}`;
    });
    for (const one of page.cards[this.card].readings) {
      const [tick] = this.ticks.get(one.name) ?? [];
      if (tick) tick.textContent = one.taken ? "✓ taken" : minutes(one.minutes);
    }
    this.say();
  }

  /** The answers beside the first boxes. */
  say() {
    const beside = this.model.get("beside");
    for (const [key, said] of this.said ?? []) said.textContent = beside[key] ?? "";
  }

  light() {
    const box = this.focused && [...this.page.first, ...this.page.cards.flatMap((card) => card.readings.flatMap((one) => one.rows.flatMap((row) => row.boxes)))].find((one) => one.key === this.focused);
    this.side?.light(this.focused, box?.words ?? "");
    this.hint.textContent = box?.why && !box.value ? `Assumed ${box.stand_in}: ${box.why}` : "";
  }

  answer() {
    const { lacks } = this.page;
    const answers = this.model.get("answers");
    const first = answers.waiting[0];
    this.next.textContent = lacks.length
      ? "Scale and weight first; then every box answers at once."
      : first ? `Next: ${first.readings.join(" and ")} (${minutes(first.minutes)}) would tell ${first.words}.` : "Everything that was asked can be answered.";
    const table = (title, rows) => rows.length ? [make("h4", {}, title), make("table", {}, make("tbody", {}, ...rows))] : [];
    this.lists.replaceChildren(
      ...table("What can be answered now", answers.known.map((one) => make("tr", {}, make("th", { scope: "row" }, one.words), make("td", {}, make("b", {}, one.text))))),
      ...table("What is wrong", answers.wrong.map((one) => make("tr", {}, make("td", {}, make("span", { class: `mk-sign ${one.sign}` }, SIGNS[one.sign]), make("b", {}, one.words), make("br"), one.text)))),
      ...table("What waits, and for which readings", answers.waiting.map((one) => make("tr", {}, make("th", { scope: "row" }, one.words), make("td", { class: "mk-quiet" }, `${one.readings.join(", ")}: ${minutes(one.minutes)}`)))),
    );
  }

  paintLater() {
    this.charts.replaceChildren(...this.model.get("curves").map(chart));
    const worth = this.model.get("worth");
    for (const [name, [, cost]] of this.ticks) cost.textContent = worth[name] ? `${worth[name]}.` : "";
  }
}

function render({ model, el }) {
  el.mkPage = new Page(model, el);
  return () => el.mkPage.still();
}

export default { render };
