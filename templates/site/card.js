// The choices of a card's page: units, the size of a batch, and how a number was worked out. Without a script
// the page says all it knows. Nothing is computed here: every amount was rounded when the page was made.
const card = (() => {
  const { byId, all, copies, make, kept } = dom;
  const root = document.documentElement;
  const systems = all("#units input").map((choice) => choice.value).filter((value) => value !== "both");
  const forGood = kept("localStorage");

  // --- slots: what a batch size puts in place of what

  const slots = new Map(all("body [data-slot]").map((slot) => [slot.dataset.slot, slot]));
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
    byId("batch-notes").replaceChildren(...(template ? all("p", template.content) : []).map((p) => p.cloneNode(true)));
    root.classList.toggle("resized", batch !== "1");
    if (table) {
      table.replaceChildren(...firstRows.map((row) => row.cloneNode(true)));
      for (const [place, told] of Object.entries(derived)) rederive(place, told);
    }
    dispatchEvent(new Event("batchshown"));
  }

  /** The label of the chosen size, fractions in words included. */
  function sizeLabel() {
    const label = document.querySelector(`#batch input[value="${batch}"]`).parentElement;
    return copies(label.querySelector(".choice"));
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

  // --- what is chosen stands in the address, so that it can be sent; a new visit starts at one batch

  const sets = {
    units: { choices: all("#units input"), show: showUnits, rest: "both" },
    batch: { choices: all("#batch input"), show: showBatch, rest: "1" },
  };

  function choose(name, value) {
    const { choices, show } = sets[name];
    const choice = choices.find((one) => one.value === value);
    if (!choice || choice.checked) return;
    choice.checked = true;
    sets[name].shown = value;
    show(value);
  }

  /** The address of the page as it is shown now. */
  function address() {
    const told = new URLSearchParams();
    for (const [name, { choices, rest }] of Object.entries(sets)) {
      const value = choices.find((one) => one.checked)?.value ?? rest;
      if (value !== rest) told.set(name, value);
    }
    return `#${told}`;
  }

  function follow() {
    const told = new URLSearchParams(location.hash.slice(1));
    if (told.has("units")) choose("units", told.get("units"));
    if (told.has("batch") || told.has("units")) choose("batch", told.get("batch") ?? "1");
    return told.get("at");
  }

  /** The page comes to life, once its steps are ready for it; gives the step that the address names. */
  function begin() {
    for (const cell of all(".list td[data-why]")) {
      asButton(cell, { className: "figure" }).addEventListener("click", () => explain(cell.dataset.why));
    }
    choose("units", forGood.read("units"));
    for (const [name, { choices, show }] of Object.entries(sets)) {
      for (const choice of choices) {
        choice.addEventListener("change", () => {
          sets[name].shown = choice.value;
          show(choice.value);
          if (name === "units") forGood.write("units", choice.value);
          history.replaceState(null, "", address());
        });
      }
    }
    // A browser may put back what was chosen on an earlier visit; what is shown stands.
    addEventListener("pageshow", () => {
      for (const { choices, shown, rest } of Object.values(sets)) {
        for (const choice of choices) choice.checked = choice.value === (shown ?? rest);
      }
    });
    dialog?.addEventListener("click", (event) => {
      if (event.target === dialog || event.target.id === "why-close") dialog.close();
    });
    return follow();
  }

  return { begin, follow, address, asButton, explain };
})();
