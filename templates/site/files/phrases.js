"use strict";
// What the scripts say, in the language of the page: by its American English, with values in braces.
globalThis.phrase = (() => {
  const told = JSON.parse(document.getElementById("phrases")?.textContent ?? "{}");
  return (said, values = {}) => (told[said] ?? said).replace(/\{(\w+)\}/g, (_, name) => values[name]);
})();
