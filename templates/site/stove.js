// A card at the stove: what a step takes, the list at hand, ticks, timers, the screen kept awake.
(() => {
  const { byId, all, copies, make, say, heard, pressable, kept } = dom;
  const root = document.documentElement;
  const page = document.body.dataset.page;
  const steps = all(".steps li");
  const session = kept("sessionStorage");

  // --- which step uses which ingredient, and how much

  let marked = null;

  function mark(button) {
    for (const tie of all(".tie, .takes")) tie.remove();
    for (const one of all(".marked")) one.classList.remove("marked");
    if (marked) marked.setAttribute("aria-pressed", "false");
    marked = button && button !== marked ? button : null;
    if (!marked) return;
    marked.setAttribute("aria-pressed", "true");
    const row = marked.closest("tr");
    if (row) markSteps(row);
    else markRows(marked.closest("li"));
  }

  const nameOf = (row) => heard(row.querySelector("button.name") ?? row.cells[0]).split(",")[0];

  function markSteps(row) {
    const name = heard(marked);
    const numbers = row.dataset.steps.split(" ");
    const links = numbers.flatMap((number, place) => [place ? ", " : "", make("a", { href: `#s${number}` }, number)]);
    row.classList.add("marked");
    row.cells[0].append(make("small", { className: "tie" }, `${phrase(numbers.length > 1 ? "Steps" : "Step")} `, ...links));
    for (const number of numbers) {
      const step = byId(`s${number}`);
      step.classList.add("marked");
      step.append(make("small", { className: "tie" }, phrase("Uses {name}", { name: name.split(",")[0] })));
    }
    say(`${name}: ${phrase(numbers.length > 1 ? "steps" : "step")} ${numbers.join(", ")}`);
  }

  /** A list that is longer than its box is moved, within it, to a row. */
  function bringUp(box, row) {
    const far = row.getBoundingClientRect().top - box.getBoundingClientRect().top;
    if (far < 0 || far > box.clientHeight * 0.6) box.scrollTop += far - box.clientHeight / 4;
  }

  function markRows(step) {
    const rows = step.dataset.uses.split(" ").map(byId);
    step.classList.add("marked");
    for (const row of rows) row.classList.add("marked");
    bringUp(section, rows[0]);
    step.append(make("ul", { className: "takes", "aria-label": phrase("Step {number} takes", { number: step.value }) }, ...rows.map((row) => taken(step, row))));
    say(`${phrase("Step {number} takes", { number: step.value })} ${rows.map(nameOf).join(", ")}`);
  }

  /** What the cells of a row say: an amount in each system, or once what is the same in both. */
  function listed(row) {
    const cells = [...row.cells].slice(1).map((cell) => [cell.classList[1], cell.querySelector("button") ?? cell]);
    const same = cells.every(([, cell]) => cell.textContent === cells[0][1].textContent);
    return (same ? [["", cells[0][1]]] : cells).map(([className, cell]) => make("span", { className }, ...copies(cell)));
  }

  /** A row as a step takes it: the amount that its words draw, else all of it, with the other steps it is for. */
  function taken(step, row) {
    const drawn = all(`.measure[data-of="${row.id}"]`, step);
    const others = (row.dataset.steps ?? "").split(" ").filter((number) => number !== String(step.value));
    const amounts = drawn.length ? drawn.map((measure) => make("span", {}, ...copies(measure))) : listed(row);
    const also = `${phrase(others.length > 1 ? "steps" : "step")} ${others.join(", ")}`;
    const aside = !others.length ? "" : ` (${drawn.length ? phrase("part") : phrase("in all, with {steps}", { steps: also })})`;
    return make("li", {}, make("b", {}, nameOf(row)), " ", make("span", { className: "much" }, ...amounts.flatMap((one) => [one, " "])), aside);
  }

  // --- ticks

  const ticks = new Set(session.read(`ticks ${page}`) ?? []);

  function tick(step, done) {
    ticks[done ? "add" : "delete"](step.id);
    step.classList.toggle("done", done);
    session.write(`ticks ${page}`, [...ticks]);
    byId("untick").hidden = ticks.size === 0;
  }

  // --- timers: each time of a step by itself, two alike too

  function liven(step) {
    const times = all(".time", step);
    times.forEach((time, place) => {
      const said = heard(time);
      const alike = times.filter((other) => heard(other) === said);
      const which = alike.length > 1 ? ` (${phrase("{place} of {all}", { place: alike.indexOf(time) + 1, all: alike.length })})` : "";
      pressable(time, phrase("Start a timer"), () =>
        timers.start({
          id: `${page} ${step.id} ${place}`,
          name: `${document.querySelector("h1").textContent}, ${phrase("step")} ${step.value}: ${said}${which}`,
          href: `${location.href.split("#")[0]}${card.address()}&at=${step.id}`,
          seconds: Number(time.dataset.seconds),
          most: Number(time.dataset.most ?? 0),
        }),
      );
    });
    for (const measure of all(".measure[data-why]", step)) {
      pressable(measure, phrase("How it was worked out"), () => card.explain(measure.dataset.why));
    }
  }

  addEventListener("timerstopped", ({ detail }) => {
    const [name, step, place] = detail.split(" ");
    if (name === page) all(`#${step} .time`)[place]?.focus();
  });

  // --- the list on a narrow screen: a sheet over the step, which stays where it is

  const section = document.querySelector(".ingredients");
  const sheet = byId("sheet");
  const shelf = byId("sheet-list");
  let left = null; // the step that the cook was at, and how far down the window it stood

  /** The step that a cook is at: the one pressed, else the first that can be read. */
  function current() {
    const pressed = marked?.closest(".steps li");
    const line = innerHeight / 3;
    const inView = steps.find((step) => step.getBoundingClientRect().bottom > line);
    return pressed ?? inView ?? steps.at(-1);
  }

  function openList() {
    const step = current();
    left = { step, top: step.getBoundingClientRect().top };
    section.style.minHeight = `${section.offsetHeight}px`;
    shelf.append(...section.childNodes);
    const rows = (step.dataset.uses ?? "").split(" ").map(byId).filter(Boolean);
    for (const row of rows) row.classList.add("marked");
    byId("sheet-close").textContent = phrase("Back to step {number}", { number: step.value });
    sheet.showModal();
    if (rows.length) bringUp(shelf, rows[0]);
  }

  function closeList() {
    section.append(...shelf.childNodes);
    section.style.minHeight = "";
    if (!marked) for (const one of all(".marked")) one.classList.remove("marked");
    // By the step, not by the page's own length, which a picture that came in meanwhile has changed.
    scrollBy({ top: left.step.getBoundingClientRect().top - left.top, behavior: "instant" });
  }

  function goTo(step) {
    if (sheet.open) sheet.close();
    requestAnimationFrame(() => {
      step.scrollIntoView();
      step.tabIndex = -1;
      step.focus({ preventScroll: true });
    });
  }

  // --- a box that is narrow for its text, on a small screen as with large letters, is set in fewer columns

  const NARROW = { ingredients: { snug: 28, narrow: 17, slim: 10 }, method: { slim: 13 } }; // rem

  function fit(box) {
    const { paddingLeft, paddingRight } = getComputedStyle(box);
    const inner = box.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight);
    const wide = inner / parseFloat(getComputedStyle(root).fontSize);
    for (const [kind, widths] of Object.entries(NARROW)) {
      if (!box.classList.contains(kind)) continue;
      for (const [name, most] of Object.entries(widths)) box.classList.toggle(name, wide > 0 && wide <= most);
    }
    const list = box.querySelector(".list");
    for (const name of ["snug", "narrow"]) if (list?.offsetWidth > inner + 1) box.classList.add(name);
  }

  const watch = new ResizeObserver((changes) => {
    for (const { target } of changes) fit(target);
  });

  /** Set in fewer columns a table is none to a browser, unless its parts say what they are. */
  function sayParts(list) {
    const roles = { thead: "rowgroup", tbody: "rowgroup", tr: "row", td: "cell" };
    list.setAttribute("role", "table");
    for (const [name, role] of Object.entries(roles)) for (const part of all(name, list)) part.setAttribute("role", role);
    for (const head of all("th", list)) head.setAttribute("role", head.scope === "col" ? "columnheader" : "rowheader");
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
      say(phrase("The browser does not let this page keep the screen on"));
    }
    awake.setAttribute("aria-pressed", String(lock !== null));
  }

  // --- the page comes to life

  root.classList.add("scripted");

  for (const row of all(".list tr[data-steps]")) {
    const button = card.asButton(row.cells[0], { className: "name", "aria-pressed": "false" });
    button.addEventListener("click", () => mark(button));
  }
  for (const step of steps) {
    const name = `${phrase("Step")} ${step.value}`;
    const number = step.dataset.uses
      ? make("button", { type: "button", className: "number", "aria-pressed": "false" }, String(step.value))
      : make("span", { className: "number", "aria-hidden": "true" }, String(step.value));
    if (step.dataset.uses) {
      number.setAttribute("aria-label", phrase("{step}: show what it takes", { step: name }));
      number.addEventListener("click", () => mark(number));
    }
    const box = make("input", { type: "checkbox", checked: ticks.has(step.id), "aria-label": phrase("{step} done", { step: name }) });
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
    say(phrase("No step is ticked"));
  });

  addEventListener("batchshown", () => {
    for (const step of steps) liven(step);
    const again = marked;
    mark(null);
    if (again) mark(again);
    byId("show-list").replaceChildren(...copies(byId("ingredients")));
    fit(section);
  });

  sayParts(document.querySelector(".list"));
  for (const box of all(".ingredients, .method")) {
    fit(box);
    watch.observe(box);
  }

  const shares = Array.from({ length: 21 }, (_, part) => part / 20);
  const look = ([{ boundingClientRect }]) => root.classList.toggle("away", boundingClientRect.top < -48);
  new IntersectionObserver(look, { threshold: shares }).observe(section);
  byId("to-list").hidden = false;
  byId("show-list").addEventListener("click", openList);
  byId("sheet-close").addEventListener("click", () => sheet.close());
  sheet.addEventListener("close", closeList);
  sheet.addEventListener("click", (event) => {
    if (event.target === sheet) sheet.close();
  });
  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("a[href*='#']");
    if (!link || link.href.split("#")[0] !== location.href.split("#")[0]) return;
    const step = byId(new URLSearchParams(link.hash.slice(1)).get("at") ?? link.hash.slice(1));
    if (!steps.includes(step)) return;
    event.preventDefault();
    goTo(step);
  });

  awake.hidden = !("wakeLock" in navigator);
  if (!awake.hidden) {
    awake.addEventListener("click", () => {
      wanted = lock === null;
      if (wanted) keepAwake();
      else lock.release();
    });
    document.addEventListener("visibilitychange", () => {
      if (wanted && lock === null && document.visibilityState === "visible") keepAwake();
    });
  }

  function arrive(at) {
    const step = at && byId(at);
    if (step) goTo(step);
  }
  arrive(card.begin());
  addEventListener("hashchange", () => arrive(card.follow()));
})();
