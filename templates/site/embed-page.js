"use strict";
// The page in a frame tells the one around it how high it is, and nothing else.
new ResizeObserver(() => {
  parent.postMessage({ recipeHeight: Math.ceil(document.body.getBoundingClientRect().height) }, "*");
}).observe(document.body);
