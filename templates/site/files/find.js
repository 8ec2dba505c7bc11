// Search and filters of the page with all recipes. Without this script the page is a plain list of all of them.
"use strict";
(() => {
  const { plain, stem } = asked;
  const form = document.getElementById("finder");
  const words = document.getElementById("words");
  const course = document.getElementById("course");
  const kind = document.getElementById("kind");
  const time = document.getElementById("time");
  const boxes = [...form.querySelectorAll("input[name=allergen]")];
  const clear = form.querySelector("button");
  const groups = document.getElementById("groups");
  const found = document.getElementById("found");
  const list = document.getElementById("found-list");
  const count = document.getElementById("count");
  const understood = document.getElementById("understood");

  const term = (word) => stem(plain(word));
  const named = (names) => Object.fromEntries(Object.entries(names).map(([name, means]) => [name.split(" ").map(term).join(" "), means]));
  const once = (work) => {
    let done;
    return () => (done ??= work());
  };
  const written = (word) => index().search(word, { fuzzy: false }).length > 0;
  // A page that is only read does none of this.
  const index = once(() => {
    const made = new MiniSearch(SETTINGS);
    made.addAll(searchable);
    return made;
  });
  const SETTINGS = {
    idField: "name",
    fields: ["title", "ingredients", "others", "kind", "course", "about"],
    processTerm: (word) => term(word) || null,
    searchOptions: {
      boost: { title: 4, kind: 2, course: 2, ingredients: 2 },
      prefix: true,
      fuzzy: (word) => (word.length > 4 && !written(word) ? 0.2 : false), // a slip is none where the word is one
      combineWith: "AND",
    },
  };
  const byName = new Map(searchable.map((recipe) => [recipe.name, recipe]));
  const items = new Map([...groups.querySelectorAll("[data-name]")].map((item) => [item.dataset.name, item]));
  const wordsOf = (text) => text.split(/[^\p{L}]+/u).filter(Boolean).map(term);
  // An ingredient goes by each word of its name, and by the last of what else it is called: sweet cream butter is no cream.
  const held = once(() => new Map(
    searchable.map((recipe) => [recipe.name, new Set([...wordsOf(recipe.ingredients), ...recipe.others.split(" · ").flatMap((name) => wordsOf(name).slice(-1))])]),
  ));
  const same = once(() => named(spoken.same));
  const known = once(() => ({ allergens: named(spoken.allergen), ingredients: new Set(searchable.flatMap((recipe) => wordsOf(`${recipe.ingredients} ${recipe.others}`))) }));

  // --- what the words look for

  /** A word, or several that name one thing, or what else that thing is called. */
  function lookFor(said) {
    const queries = [];
    for (let at = 0; at < said.length; ) {
      const long = [3, 2, 1].find((size) => Object.hasOwn(same(), said.slice(at, at + size).join(" "))) ?? 1;
      const name = said.slice(at, at + long).join(" ");
      const others = Object.hasOwn(same(), name) ? same()[name] : [];
      queries.push({ name, combineWith: "OR", queries: [name, ...others].map((one) => ({ combineWith: "AND", queries: one.split(" ") })) });
      at += long;
    }
    return queries;
  }

  /** The recipes that the words find, the best first, and the words that no recipe has. */
  function lookUp(said) {
    if (!said.length) return { recipes: searchable, unknown: [], some: false };
    const queries = lookFor(said);
    const unknown = queries.filter((query) => index().search(query).length === 0);
    const left = queries.filter((query) => !unknown.includes(query));
    const together = left.length ? index().search({ combineWith: "AND", queries: left }) : [];
    const some = left.length > 1 && !together.length;
    const hits = some ? index().search({ combineWith: "OR", queries: left }) : together;
    return { recipes: hits.map((hit) => byName.get(hit.id)), unknown: unknown.map(({ name }) => name), some };
  }

  // --- what is left out

  function suits(recipe, { lacking, most, least }) {
    const without = boxes.filter((box) => box.checked).map((box) => box.value);
    const seconds = recipe.seconds;
    return (
      (!course.value || recipe.course === course.value) &&
      (!kind.value || recipe.kind === kind.value) &&
      (!time.value || (seconds !== null && seconds <= Number(time.value))) &&
      (most === null || (seconds !== null && seconds <= most)) &&
      (least === null || (seconds !== null && seconds >= least)) &&
      (!without.length || (recipe.known && !recipe.allergens.some((word) => without.includes(word)))) &&
      !lacking.some((word) => held().get(recipe.name).has(word))
    );
  }

  /** What the words leave out is ticked as if by hand, for as long as the words stand. */
  function tick(without) {
    for (const box of boxes) {
      const typed = without.includes(box.value);
      if (typed) box.checked = true;
      else if (box.dataset.typed) box.checked = false;
      if (typed) box.dataset.typed = "yes";
      else delete box.dataset.typed;
    }
  }

  // --- what was understood

  /** An allergen as its box has it, in the language of the page. */
  const labelled = (word) => boxes.find((box) => box.value === word)?.parentElement.textContent.trim() ?? word;
  const listed = (names, last) => (names.length > 1 ? `${names.slice(0, -1).join(", ")} ${last} ${names.at(-1)}` : names.join(""));

  function duration(seconds) {
    const [hours, minutes] = [Math.floor(seconds / 3600), Math.round((seconds % 3600) / 60)];
    const told = [hours && phrase(hours > 1 ? "{count} hours" : "{count} hour", { count: hours }), minutes && phrase(minutes > 1 ? "{count} minutes" : "{count} minute", { count: minutes })];
    return told.filter(Boolean).join(" ");
  }

  function tell({ without, lacking, most, least }, unknown, some) {
    const ticked = without.filter((word) => boxes.some((box) => box.value === word));
    const nowhere = lacking.filter((word) => !known().ingredients.has(word));
    const gone = lacking.filter((word) => !nowhere.includes(word));
    const absent = [...without.filter((word) => !ticked.includes(word)), ...nowhere];
    const told = [];
    if (most !== null) told.push(phrase("Up to {time}, start to finish.", { time: duration(most) }));
    if (least !== null) told.push(phrase("At least {time}, start to finish.", { time: duration(least) }));
    if (gone.length) told.push(phrase("Without {names} among the ingredients.", { names: listed(gone, phrase("or")) }));
    if (ticked.length) {
      told.push(phrase("Left out: recipes that list {names}. That is no promise that the others hold none: read the label of everything you use.", { names: listed(ticked.map(labelled), phrase("or")) }));
    }
    if (absent.length) told.push(phrase("No recipe here lists {names}. That is no promise that none holds any.", { names: listed(absent, phrase("or")) }));
    if (some) told.push(phrase("No recipe has all of these words."));
    if (unknown.length) told.push(phrase("No recipe has “{words}”.", { words: unknown.join("”, “") }));
    return told.join(" ");
  }

  // What is chosen stands in the address, so that a result can be kept, sent and come back to.
  const chosen = () => {
    const values = new URLSearchParams();
    for (const field of [words, course, kind, time]) if (field.value.trim()) values.set(field.id, field.value.trim());
    for (const box of boxes) if (box.checked && !box.dataset.typed) values.append("without", box.value);
    return values.toString();
  };
  // A search begun on another page comes as that page's form sends it.
  const address = () => new URLSearchParams(location.hash.includes("=") ? location.hash.slice(1) : location.search);
  const restore = () => {
    const values = address();
    for (const field of [words, course, kind, time]) {
      field.value = values.get(field.id) ?? "";
      if (field.selectedIndex === -1) field.value = "";
    }
    for (const box of boxes) box.checked = values.getAll("without").includes(box.value);
  };

  /** A recipe of the list again, under no address of its own. */
  function copied(item) {
    const copy = item.cloneNode(true);
    copy.removeAttribute("id");
    return copy;
  }

  const show = () => {
    const any = chosen() !== "";
    const wish = any ? asked(words.value, known()) : asked("");
    tick(wish.without);
    const { recipes, unknown, some } = lookUp(wish.words);
    const unlisted = wish.without.some((word) => !boxes.some((box) => box.value === word));
    const left = any ? recipes.filter((recipe) => suits(recipe, wish) && (!unlisted || recipe.known)) : [];
    list.replaceChildren(...left.map((recipe) => copied(items.get(recipe.name))));
    document.documentElement.classList.toggle("searching", any);
    groups.hidden = any;
    clear.hidden = !any;
    found.hidden = !left.length;
    understood.textContent = any ? tell(wish, left.length ? unknown : [], some && left.length > 0) : "";
    if (!any) count.textContent = "";
    else if (!left.length) count.textContent = phrase("No recipe fits. Take away a word or a choice.");
    else count.textContent = phrase(left.length === 1 ? "{count} recipe" : "{count} recipes", { count: left.length });
  };
  const changed = () => {
    show();
    history.replaceState(null, "", `${location.pathname}#${chosen()}`);
  };

  form.addEventListener("input", changed);
  // On a telephone the keyboard covers half of the page: the search goes up, and what it finds stands below it.
  const typing = () => {
    const low = document.activeElement === words && (visualViewport?.height ?? innerHeight) < 600;
    document.documentElement.classList.toggle("typing", low && chosen() !== "");
    if (low) words.parentElement.scrollIntoView({ block: "start", behavior: "instant" });
  };
  words.addEventListener("focus", () => setTimeout(index)); // ready before the first letter is shown
  words.addEventListener("input", typing);
  words.addEventListener("blur", () => setTimeout(typing));
  visualViewport?.addEventListener("resize", typing);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    words.blur();
  });
  form.addEventListener("reset", () => setTimeout(() => { changed(); words.focus(); }));
  addEventListener("hashchange", () => { if (!location.hash || location.hash.includes("=")) { restore(); show(); } });
  if (address().size) {
    restore();
    document.getElementById("more").open = [course, kind, time].some((field) => field.value) || boxes.some((box) => box.checked);
  }
  show();
})();
