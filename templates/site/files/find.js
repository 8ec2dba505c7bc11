// Search and filters of the page with all recipes. Without this script the page is a plain list of all of them.
"use strict";
(() => {
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

  const plain = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  const index = new MiniSearch({
    idField: "name",
    fields: ["title", "ingredients", "others", "kind", "course", "about"],
    processTerm: plain,
    searchOptions: {
      boost: { title: 4, kind: 2, ingredients: 2 },
      prefix: true,
      fuzzy: (term) => (term.length > 3 ? 0.2 : false),
      combineWith: "AND",
    },
  });
  index.addAll(searchable);
  const items = new Map([...groups.querySelectorAll("[data-name]")].map((item) => [item.dataset.name, item]));

  const suits = (recipe) => {
    const without = boxes.filter((box) => box.checked).map((box) => box.value);
    return (
      (!course.value || recipe.course === course.value) &&
      (!kind.value || recipe.kind === kind.value) &&
      (!time.value || (recipe.seconds !== null && recipe.seconds <= Number(time.value))) &&
      (!without.length || (recipe.known && !recipe.allergens.some((word) => without.includes(word))))
    );
  };

  // What is chosen stands in the address, so that a result can be kept, sent and come back to.
  const chosen = () => {
    const values = new URLSearchParams();
    for (const field of [words, course, kind, time]) if (field.value.trim()) values.set(field.id, field.value.trim());
    for (const box of boxes) if (box.checked) values.append("without", box.value);
    return values.toString();
  };
  const restore = () => {
    const values = new URLSearchParams(location.hash.slice(1));
    for (const field of [words, course, kind, time]) {
      field.value = values.get(field.id) ?? "";
      if (field.selectedIndex === -1) field.value = "";
    }
    for (const box of boxes) box.checked = values.getAll("without").includes(box.value);
  };

  const show = () => {
    const asked = words.value.trim();
    const any = chosen() !== "";
    const byName = new Map(searchable.map((recipe) => [recipe.name, recipe]));
    const recipes = asked ? index.search(asked).map((hit) => byName.get(hit.id)) : searchable;
    const left = any ? recipes.filter(suits) : [];
    list.replaceChildren(...left.map((recipe) => items.get(recipe.name).cloneNode(true)));
    groups.hidden = any;
    clear.hidden = !any;
    found.hidden = !left.length;
    if (!any) count.textContent = "";
    else if (!left.length) count.textContent = "No recipe fits. Take away a word or a choice.";
    else count.textContent = left.length === 1 ? "1 recipe" : `${left.length} recipes`;
  };
  const changed = () => {
    show();
    history.replaceState(null, "", `#${chosen()}`);
  };

  form.addEventListener("input", changed);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", () => setTimeout(() => { changed(); words.focus(); }));
  addEventListener("hashchange", () => { if (location.hash.includes("=")) { restore(); show(); } });
  if (location.hash.includes("=")) {
    restore();
    document.getElementById("more").open = [course, kind, time].some((field) => field.value) || boxes.some((box) => box.checked);
  }
  form.hidden = false;
  show();
})();
