"use strict";
// Where a reader may go from a recipe: neighbours.js beside its page has them, and why.
(() => {
  const { top } = document.body.dataset;
  const make = (tag, properties, ...children) => {
    const made = Object.assign(document.createElement(tag), properties);
    made.append(...children);
    return made;
  };
  for (const { name, title, picture, why, time } of globalThis.neighbours ?? []) {
    const shown = picture ? [make("img", { src: `${top}recipes/${name}/${picture}`, alt: "", width: 320, height: 240, loading: "lazy" })] : [];
    const told = [make("span", { className: "small" }, why), " ", make("b", {}, title), " ", make("span", { className: "small" }, time)];
    document.getElementById("next-list").append(make("li", {}, ...shown, make("a", { href: `${top}recipes/${name}/index.html` }, ...told)));
  }
})();
