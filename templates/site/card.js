"use strict";
// The controls of a card's page. Without this script the page says all it knows; with it a reader chooses.
// Nothing is computed here but time: every amount was worked out and rounded when the page was made.
(() => {
  const byId = (id) => document.getElementById(id);
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const copies = (node) => [...node.childNodes].map((child) => child.cloneNode(true));
  const root = document.documentElement;
  const page = document.body.dataset.page;
  const steps = all(".steps li");
  const systems = all("#units input").map((choice) => choice.value).filter((value) => value !== "both");

  function make(name, properties = {}, ...children) {
    const { data = {}, ...rest } = properties;
    const made = document.createElement(name);
    for (const [key, value] of Object.entries(rest)) {
      if (key in made) made[key] = value;
      else made.setAttribute(key, value);
    }
    Object.assign(made.dataset, data);
    made.append(...children);
    return made;
  }

  function say(text) {
    byId("said").textContent = text;
  }

  // --- what is kept: choices for good, ticks and timers for the session; where storage is shut, nothing is

  function kept(store) {
    return {
      read(key) {
        try {
          return JSON.parse(window[store].getItem(`card ${key}`));
        } catch {
          return null;
        }
      },
      write(key, value) {
        try {
          window[store].setItem(`card ${key}`, JSON.stringify(value));
        } catch {
          // A private window: the choice holds until the page is closed.
        }
      },
    };
  }
  const forGood = kept("localStorage");
  const session = kept("sessionStorage");

  // --- slots: what a batch size puts in place of what

  const slots = new Map(all("main [data-slot]").map((slot) => [slot.dataset.slot, slot]));
  const first = new Map([...slots].map(([name, slot]) => [name, copies(slot)]));
  const table = document.querySelector("#derivations tbody");
  const firstRows = table ? copies(table) : [];
  const sizes = byId("sizes") ? JSON.parse(byId("sizes").textContent) : { words: {} };
  let batch = "1";

  /** A button in a cell takes over the cell's words, and with them its slot. */
  function asButton(cell, properties) {
    const button = make("button", { type: "button", ...properties }, ...cell.childNodes);
    cell.append(button);
    slots.set(cell.dataset.slot, button);
    return button;
  }

  /** Text with its fractions as signs for the eye and words for the ear, as the page itself has them. */
  function aloud(text) {
    const signs = Object.keys(sizes.words).sort((one, other) => other.length - one.length);
    if (!signs.length) return [new Text(text)];
    return text.split(new RegExp(`(${signs.join("|")})`)).flatMap((piece) =>
      piece in sizes.words
        ? [make("span", { "aria-hidden": "true" }, piece), make("span", { className: "aloud" }, sizes.words[piece])]
        : [new Text(piece)],
    );
  }

  function figure([number, unit]) {
    const told = number ? [make("span", { className: "number" }, ...aloud(number)), new Text("\u00a0")] : [];
    return [...told, ...aloud(unit)];
  }

  function showBatch(size) {
    const template = document.querySelector(`template[data-batch="${size}"]`);
    batch = template ? size : "1";
    const { figures = {}, derived = {} } = sizes[batch] ?? {};
    const changed = new Map([
      ...(template ? all("[data-slot]", template.content).map((slot) => [slot.dataset.slot, copies(slot)]) : []),
      ...Object.entries(figures).map(([place, told]) => [place, figure(told)]),
    ]);
    for (const [name, slot] of slots) {
      slot.replaceChildren(...(changed.get(name) ?? first.get(name)).map((node) => node.cloneNode(true)));
    }
    for (const step of steps) liven(step);
    byId("batch-notes").replaceChildren(...(template ? all("p", template.content) : []).map((p) => p.cloneNode(true)));
    if (table) {
      table.replaceChildren(...firstRows.map((row) => row.cloneNode(true)));
      for (const [place, told] of Object.entries(derived)) rederive(place, told);
    }
    mark(null);
  }

  /** The label of the chosen size, fractions in words included. */
  function sizeLabel() {
    const label = document.querySelector(`#batch input[value="${batch}"]`).parentElement;
    return copies(label).filter((node) => node.nodeName !== "INPUT");
  }

  /** One row of the table of derivations, for the chosen size. */
  function rederive(place, [exact, ...told]) {
    const [, author, exactly, ...others] = byId(`why-${place}`).cells;
    const basis = others.pop();
    author.prepend(...sizeLabel(), " × ");
    exactly.textContent = exact;
    others.forEach((cell, number) => {
      cell.children[0].replaceChildren(...printedNow(place, systems[number]));
      cell.children[1].textContent = told[number];
    });
    if (told.length > others.length) basis.textContent = told[others.length];
  }

  function printedNow(place, system) {
    const cell = slots.get(`${place}-${system}`);
    if (cell) return copies(cell);
    const measure = document.querySelector(`.measure[data-why="${place}"]`);
    return copies(measure.querySelector(`.${system}, .${system}-only`) ?? measure);
  }

  // --- units

  function showUnits(units) {
    root.dataset.units = units;
    for (const heading of all(".part th")) heading.colSpan = units === "both" ? 3 : 2;
  }

  // --- how a number was derived

  const dialog = byId("why");

  function explain(place) {
    const row = byId(`why-${place}`);
    const heads = all("#derivations thead th").map((head) => head.textContent);
    const pairs = [...row.children].map((cell, number) => [heads[number], copies(cell)]);
    const list = dialog.querySelector("dl");
    list.replaceChildren();
    for (const [head, told] of pairs) {
      if (told.some((node) => node.textContent.trim())) {
        list.append(make("div", {}, make("dt", {}, head), make("dd", {}, ...told)));
      }
    }
    dialog.showModal();
  }

  // --- words in a step that do something; spans, since a button can't break across lines

  function pressable(span, hint, action) {
    span.setAttribute("role", "button");
    span.title = hint;
    span.tabIndex = 0;
    span.addEventListener("click", action);
    span.addEventListener("keydown", (event) => {
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        action();
      }
    });
  }

  /** What is read aloud of some words: signs left out, what stands for them kept. */
  function heard(node) {
    const copy = node.cloneNode(true);
    for (const silent of all("[aria-hidden], [hidden]", copy)) silent.remove();
    return copy.textContent;
  }

  function liven(step) {
    for (const time of all(".time", step)) {
      pressable(time, "Start a timer", () => startTimer(step, time));
    }
    for (const measure of all(".measure[data-why]", step)) {
      pressable(measure, "How it was worked out", () => explain(measure.dataset.why));
    }
  }

  // --- which step uses which ingredient

  let marked = null;

  function mark(button) {
    for (const tie of all(".tie")) tie.remove();
    for (const one of all(".marked")) one.classList.remove("marked");
    if (marked) marked.setAttribute("aria-pressed", "false");
    marked = button && button !== marked ? button : null;
    if (!marked) return;
    marked.setAttribute("aria-pressed", "true");
    const row = marked.closest("tr");
    if (row) markSteps(row);
    else markRows(marked.closest("li"));
  }

  function markSteps(row) {
    const name = heard(marked);
    const numbers = row.dataset.steps.split(" ");
    const links = numbers.flatMap((number, place) => [place ? ", " : "", make("a", { href: `#s${number}` }, number)]);
    row.classList.add("marked");
    row.cells[0].append(make("small", { className: "tie" }, numbers.length > 1 ? "Steps " : "Step ", ...links));
    for (const number of numbers) {
      const step = byId(`s${number}`);
      step.classList.add("marked");
      step.append(make("small", { className: "tie" }, `Uses ${name.split(",")[0]}`));
    }
    say(`${name}: ${numbers.length > 1 ? "steps" : "step"} ${numbers.join(", ")}`);
  }

  function markRows(step) {
    const rows = step.dataset.uses.split(" ").map(byId);
    const names = rows.map((row) => heard(row.querySelector("button.name") ?? row.cells[0]).split(",")[0]);
    step.classList.add("marked");
    step.append(make("small", { className: "tie" }, `Uses ${names.join(", ")}`));
    for (const row of rows) {
      row.classList.add("marked");
      row.cells[0].append(make("small", { className: "tie" }, `Step ${step.value}`));
    }
    say(`Step ${step.value} uses ${names.join(", ")}`);
  }

  // --- ticks

  const ticks = new Set(session.read(`ticks ${page}`) ?? []);

  function tick(step, done) {
    ticks[done ? "add" : "delete"](step.id);
    step.classList.toggle("done", done);
    session.write(`ticks ${page}`, [...ticks]);
    byId("untick").hidden = ticks.size === 0;
  }

  // --- the screen kept awake

  const awake = byId("awake");
  let lock = null;
  let wanted = false;

  async function keepAwake() {
    try {
      lock = await navigator.wakeLock.request("screen");
      lock.addEventListener("release", () => {
        lock = null;
        awake.setAttribute("aria-pressed", "false");
      });
    } catch {
      wanted = false;
      say("The browser does not let this page keep the screen on");
    }
    awake.setAttribute("aria-pressed", String(lock !== null));
  }

  // --- timers: the only arithmetic here

  const timers = new Map(); // by step and time: {name, most, end or left, up, shown}
  let ticking = 0;
  let sound = null;

  const clock = (milliseconds) => {
    const seconds = Math.max(0, Math.ceil(milliseconds / 1000));
    const parts = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
    const shown = parts[0] ? parts : parts.slice(1);
    return shown.map((part, place) => (place ? String(part).padStart(2, "0") : part)).join(":");
  };

  function startTimer(step, time) {
    const name = `Step ${step.value}, ${heard(time)}`;
    if (timers.has(name)) {
      timers.get(name).shown.querySelector("button").focus();
      return;
    }
    try {
      sound ??= new AudioContext();
    } catch {
      // No sound: the timer still shows and says its end.
    }
    addTimer(name, { step: step.id, end: Date.now() + Number(time.dataset.seconds) * 1000 });
    say(`${name}: timer started`);
  }

  function addTimer(name, timer) {
    const left = make("span", { className: "left", role: "timer", "aria-live": "off" });
    const pause = make("button", { type: "button" }, timer.left === undefined ? "Pause" : "Go on");
    const stop = make("button", { type: "button" }, "Stop");
    pause.setAttribute("aria-label", `${pause.textContent}: ${name}`);
    stop.setAttribute("aria-label", `Stop: ${name}`);
    timer.shown = make("div", { className: "timer" }, make("b", {}, name), left, pause, stop);
    pause.addEventListener("click", () => {
      const paused = timer.left === undefined;
      if (paused) timer.left = timer.end - Date.now();
      else timer.end = Date.now() + timer.left;
      if (!paused) delete timer.left;
      pause.textContent = paused ? "Go on" : "Pause";
      pause.setAttribute("aria-label", `${pause.textContent}: ${name}`);
      say(`${name}: ${paused ? "paused" : "going on"}`);
      turn();
    });
    stop.addEventListener("click", () => {
      timers.delete(name);
      timer.shown.remove();
      say(`${name}: timer stopped`);
      byId(timer.step)?.querySelector(".time")?.focus();
      turn();
    });
    timers.set(name, timer);
    byId("timers").append(timer.shown);
    turn();
  }

  function turn() {
    for (const [name, timer] of timers) {
      const left = timer.left ?? timer.end - Date.now();
      if (left <= 0 && !timer.up) {
        timer.up = true;
        timer.shown.classList.add("up");
        timer.shown.querySelector("button").hidden = true;
        say(`${name}: time to look`);
        ring();
      }
      timer.shown.querySelector(".left").textContent = timer.up ? `time to look (${clock(-left)} ago)` : clock(left);
    }
    byId("timers").hidden = timers.size === 0;
    root.classList.toggle("timing", timers.size > 0);
    session.write(
      `timers ${page}`,
      [...timers].map(([name, { step, end, left, up }]) => [name, { step, end, left, up }]),
    );
    clearTimeout(ticking);
    if (timers.size) ticking = setTimeout(turn, 500);
  }

  /** Three short tones. */
  function ring() {
    for (const place of sound ? [0, 1, 2] : []) {
      const tone = sound.createOscillator();
      const volume = sound.createGain();
      tone.frequency.value = 784;
      volume.gain.value = 0.15;
      tone.connect(volume).connect(sound.destination);
      tone.start(sound.currentTime + place * 0.45);
      tone.stop(sound.currentTime + place * 0.45 + 0.25);
    }
  }

  // --- the page comes to life

  root.classList.add("scripted");
  byId("controls").hidden = false;

  for (const row of all(".list tr[data-steps]")) {
    const button = asButton(row.cells[0], { className: "name", "aria-pressed": "false" });
    button.addEventListener("click", () => mark(button));
  }
  for (const cell of all(".list td[data-why]")) {
    asButton(cell, { className: "figure" }).addEventListener("click", () => explain(cell.dataset.why));
  }
  for (const step of steps) {
    const name = `Step ${step.value}`;
    const number = step.dataset.uses
      ? make("button", { type: "button", className: "number", "aria-pressed": "false" }, String(step.value))
      : make("span", { className: "number", "aria-hidden": "true" }, String(step.value));
    if (step.dataset.uses) {
      number.setAttribute("aria-label", `${name}: show its ingredients`);
      number.addEventListener("click", () => mark(number));
    }
    const box = make("input", { type: "checkbox", checked: ticks.has(step.id), "aria-label": `${name} done` });
    box.addEventListener("change", () => tick(step, box.checked));
    step.prepend(number);
    step.append(make("label", { className: "tick" }, box));
    step.classList.toggle("done", box.checked);
    liven(step);
  }
  byId("untick").hidden = ticks.size === 0;
  byId("untick").addEventListener("click", () => {
    for (const step of steps) {
      step.querySelector("input").checked = false;
      tick(step, false);
    }
    byId("controls").querySelector("input:checked").focus();
    say("No step is ticked");
  });

  for (const [set, show, key] of [
    ["units", showUnits, "units"],
    ["batch", showBatch, `batch ${page}`],
  ]) {
    const choices = all(`#${set} input`);
    const before = choices.find((choice) => choice.value === forGood.read(key));
    if (before && !before.checked) {
      before.checked = true;
      show(before.value);
    }
    for (const choice of choices) {
      choice.addEventListener("change", () => {
        show(choice.value);
        forGood.write(key, choice.value);
      });
    }
  }

  dialog?.addEventListener("click", (event) => {
    if (event.target === dialog || event.target.id === "why-close") dialog.close();
  });

  if ("wakeLock" in navigator) {
    awake.hidden = false;
    awake.addEventListener("click", () => {
      wanted = lock === null;
      if (wanted) keepAwake();
      else lock.release();
    });
    document.addEventListener("visibilitychange", () => {
      if (wanted && lock === null && document.visibilityState === "visible") keepAwake();
    });
  }

  for (const [name, timer] of session.read(`timers ${page}`) ?? []) addTimer(name, { ...timer, up: false });
})();
