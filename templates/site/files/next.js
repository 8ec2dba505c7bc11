"use strict";
// Where a reader may go from a recipe: others of its kind, then of its part of the meal, then the newest.
(() => {
  const { page: here, top } = document.body.dataset;
  const list = document.getElementById("next-list");
  const me = titles.find(({ name }) => name === here);
  if (!list || !me) return;
  const rank = (one) => (one.kind === me.kind ? 0 : one.course === me.course ? 1 : 2);
  const make = (tag, properties, ...children) => {
    const made = Object.assign(document.createElement(tag), properties);
    made.append(...children);
    return made;
  };
  const others = titles.filter((one) => one !== me).sort((one, other) => rank(one) - rank(other)).slice(0, 3);
  for (const { name, title, picture, course, kind, time } of others) {
    const shown = picture ? [make("img", { src: `${top}recipes/${name}/${picture}`, alt: "", width: 320, height: 240, loading: "lazy" })] : [];
    const link = make("a", { href: `${top}recipes/${name}/index.html` }, ...shown, make("span", {}, title));
    const why = [course === me.course ? kind : course, time].filter(Boolean).join(" · ");
    list.append(make("li", {}, link, make("p", { className: "small" }, why)));
  }
})();
