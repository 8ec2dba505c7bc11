"use strict";
// For a page that shows a recipe in a frame: the frame becomes as high as the recipe says it is.
{
  const home = new URL(document.currentScript.src).origin;
  addEventListener("message", ({ data, origin, source }) => {
    const height = Number(data?.recipeHeight);
    if (origin !== home || !(height > 0)) return;
    for (const frame of document.querySelectorAll("iframe")) if (frame.contentWindow === source) frame.height = height;
  });
}
