"use strict";
// Kitchen timers. A timer belongs to the reader, not to a page: every page of the site shows those that run.
// A recipe's page starts them through `timers.start`; without storage they live as long as their page.
globalThis.timers = (() => {
  const KEY = "card timers";
  const ALOUD = [0, 0.45, 0.9]; // seconds: three short tones
  const AGAIN = 20; // seconds until it rings again, while nobody has looked
  const TIMES = 6;
  const LATE = 12 * 3600 * 1000; // a timer that was up so long ago is forgotten

  const make = (name, properties = {}, ...children) => {
    const made = document.createElement(name);
    for (const [key, value] of Object.entries(properties)) {
      if (key in made) made[key] = value;
      else made.setAttribute(key, value);
    }
    made.append(...children);
    return made;
  };
  const box = document.getElementById("timers") ?? document.body.appendChild(make("section", { id: "timers", hidden: true }));
  box.setAttribute("aria-label", phrase("Timers"));
  const said = document.getElementById("said") ?? document.body.appendChild(make("p", { id: "said", className: "aloud", "aria-live": "polite" }));
  const list = box.appendChild(make("ul"));
  const note = box.appendChild(make("p", { className: "note" }));
  const title = document.title;
  const shown = new Map(); // by id: the row of each timer
  let running = []; // {id, name, href, end or left, most, up, seen}: times in milliseconds
  let ticking = 0;
  let sound = null;
  let tones = []; // what the sound card has been told to play

  // --- what is kept

  function read() {
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) ?? "[]");
      return kept.filter(({ id, name, end, left }) => id && name && (end > Date.now() - LATE || left > 0));
    } catch {
      return running;
    }
  }

  function write() {
    try {
      localStorage.setItem(KEY, JSON.stringify(running));
    } catch {
      // A private window: they run until the page is closed.
    }
  }

  function change(action) {
    running = read();
    action();
    write();
    show();
  }

  const find = (id) => running.find((timer) => timer.id === id);
  const say = (text) => {
    said.textContent = text;
  };

  // --- time

  const left = (timer) => timer.left ?? timer.end - Date.now();

  function clock(milliseconds) {
    const seconds = Math.max(0, Math.ceil(milliseconds / 1000));
    const parts = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
    const told = parts[0] ? parts : parts.slice(1);
    return told.map((part, place) => (place ? String(part).padStart(2, "0") : part)).join(":");
  }

  /** What a timer says: its time, or that it is up and how much longer it may take. */
  function told(timer) {
    const rest = left(timer);
    if (rest > 0) return clock(rest);
    const since = Math.floor(-rest / 1000) * 1000;
    const more = (timer.most ?? 0) - since;
    return more > 0 ? phrase("time to look; up to {time} more", { time: clock(more) }) : phrase("time to look ({time} ago)", { time: clock(since) });
  }

  // --- sound: told to the sound card in advance, since a browser slows a page that nobody sees

  function schedule() {
    for (const tone of tones) tone.stop();
    tones = [];
    if (mute()) return;
    for (const timer of running) {
      if (timer.left !== undefined || timer.seen) continue;
      for (let often = 0; often < TIMES; often += 1) {
        const at = Math.max(left(timer) / 1000, 0) + often * AGAIN;
        for (const after of ALOUD) tones.push(tone(sound.currentTime + at + after));
      }
    }
  }

  function tone(at) {
    const made = sound.createOscillator();
    const volume = sound.createGain();
    made.frequency.value = 784;
    volume.gain.value = 0.2;
    made.connect(volume).connect(sound.destination);
    made.start(at);
    made.stop(at + 0.25);
    return made;
  }

  const mute = () => sound?.state !== "running";

  /** A browser lets a page ring after a press or a key; on another page it takes one more. */
  function listen() {
    if (navigator.userActivation?.hasBeenActive === false) return;
    try {
      if (!sound) {
        sound = new AudioContext();
        sound.onstatechange = show;
      }
      if (sound.state === "suspended") sound.resume();
    } catch {
      // No sound: timers still show, say and notify.
    }
    schedule();
  }

  // --- the reader is told

  function up(timer) {
    timer.up = true;
    say(phrase("{timer}: time to look", { timer: timer.name }));
    navigator.vibrate?.([300, 200, 300, 200, 300]);
    if (globalThis.Notification?.permission === "granted") {
      try {
        new Notification(phrase("Time to look"), { body: timer.name, tag: timer.id });
      } catch {
        // Some telephones let only an installed site notify.
      }
    }
  }

  function notes() {
    const told = [phrase("Rings while a page of this site is open; a locked phone may stay silent.")];
    if (mute()) told.unshift(phrase("Press anywhere to let this page ring."));
    const asked = globalThis.Notification?.permission === "default";
    const ask = make("button", { type: "button" }, phrase("Notify me too"));
    ask.addEventListener("click", () => Notification.requestPermission().then(show, show));
    note.replaceChildren(told.join(" "), ...(asked ? [" ", ask] : []));
  }

  // --- rows

  function row(timer) {
    const time = make("span", { className: "left", role: "timer", "aria-live": "off" });
    const link = make("a", { href: timer.href }, timer.name);
    const pause = make("button", { type: "button", className: "pause" });
    const more = make("button", { type: "button", className: "more" }, phrase("+1 min"));
    const stop = make("button", { type: "button", className: "stop" }, phrase("Stop"));
    more.setAttribute("aria-label", `${phrase("+1 min")}: ${timer.name}`);
    stop.setAttribute("aria-label", `${phrase("Stop")}: ${timer.name}`);
    pause.addEventListener("click", () => change(() => hold(find(timer.id))));
    more.addEventListener("click", () => change(() => lengthen(find(timer.id))));
    stop.addEventListener("click", () => {
      change(() => {
        running = running.filter((one) => one.id !== timer.id);
      });
      say(phrase("{timer}: timer stopped", { timer: timer.name }));
      dispatchEvent(new CustomEvent("timerstopped", { detail: timer.id }));
    });
    return make("li", { className: "timer" }, make("b", {}, link), time, pause, more, stop);
  }

  function hold(timer) {
    if (!timer) return;
    const paused = timer.left === undefined;
    if (paused) timer.left = timer.end - Date.now();
    else {
      timer.end = Date.now() + timer.left;
      delete timer.left;
    }
    say(phrase(paused ? "{timer}: paused" : "{timer}: going on", { timer: timer.name }));
  }

  function lengthen(timer) {
    if (!timer) return;
    if (timer.left !== undefined) timer.left += 60000;
    else timer.end = Math.max(timer.end, Date.now()) + 60000;
    timer.up = timer.seen = false;
    timer.most = 0;
    say(phrase("{timer}: one minute more", { timer: timer.name }));
  }

  /** The rows as the timers are, the one that is due first on top. */
  function show() {
    for (const [id, made] of shown) {
      if (find(id)) continue;
      made.remove();
      shown.delete(id);
    }
    running.sort((one, other) => left(one) - left(other));
    for (const timer of running) {
      if (!shown.has(timer.id)) shown.set(timer.id, row(timer));
      const made = shown.get(timer.id);
      const pause = made.querySelector(".pause");
      pause.textContent = phrase(timer.left === undefined ? "Pause" : "Go on");
      pause.setAttribute("aria-label", `${pause.textContent}: ${timer.name}`);
    }
    const rows = running.map((timer) => shown.get(timer.id));
    if (rows.some((made, place) => list.children[place] !== made)) list.replaceChildren(...rows);
    notes();
    schedule();
    turn();
  }

  function turn() {
    let changed = false;
    for (const timer of running) {
      const made = shown.get(timer.id);
      const due = left(timer) <= 0;
      if (due && !timer.up) {
        up(timer);
        changed = true;
      }
      made.classList.toggle("up", due);
      made.querySelector(".pause").hidden = due;
      made.querySelector(".left").textContent = told(timer);
    }
    if (changed) write();
    const first = running.find((timer) => timer.left === undefined);
    document.title = first ? `${left(first) > 0 ? clock(left(first)) : phrase("Time to look")} · ${title}` : title;
    box.hidden = running.length === 0;
    document.documentElement.classList.toggle("timing", running.length > 0);
    clearTimeout(ticking);
    if (running.length) ticking = setTimeout(turn, 500);
  }

  function start({ id, name, href, seconds, most }) {
    if (shown.has(id)) {
      shown.get(id).querySelector("button:not([hidden])").focus();
      return;
    }
    const longest = most ? (most - seconds) * 1000 : 0;
    change(() => running.push({ id, name, href, most: longest, end: Date.now() + seconds * 1000 }));
    listen();
    say(phrase("{timer}: timer started", { timer: name }));
  }

  addEventListener("storage", (event) => {
    if (event.key !== KEY) return;
    running = read();
    show();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible" && running.length) turn();
  });
  for (const press of ["pointerdown", "keydown"]) {
    addEventListener(press, () => {
      if (!running.length) return;
      for (const timer of running) timer.seen ||= timer.up;
      write();
      listen();
    });
  }

  running = read();
  if (running.length) {
    listen();
    show();
  }
  return { start };
})();
