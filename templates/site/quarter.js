"use strict";
// Which three months of the year it is for the reader, before the page is drawn: 0 begins with December.
document.documentElement.dataset.quarter = Math.floor(((new Date().getMonth() + 1) % 12) / 3);
