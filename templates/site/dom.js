"use strict";
// What the scripts of a card's page share: finding and making nodes, speaking, and keeping a reader's choices.
const dom = (() => {
  const byId = (id) => document.getElementById(id);
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const copies = (node) => [...node.childNodes].map((child) => child.cloneNode(true));

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

  /** What is read aloud of some words: signs left out, what stands for them kept. */
  function heard(node) {
    const copy = node.cloneNode(true);
    for (const silent of all("[aria-hidden], [hidden]", copy)) silent.remove();
    return copy.textContent;
  }

  /** Words in a step that do something; spans, since a button can't break across lines. */
  function pressable(span, hint, action) {
    span.setAttribute("role", "button");
    span.title = hint;
    span.tabIndex = 0;
    span.onclick = action;
    span.onkeydown = (event) => {
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        action();
      }
    };
  }

  // Choices for good, ticks for the session; where storage is shut, nothing is kept.
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

  return { byId, all, copies, make, say, heard, pressable, kept };
})();
