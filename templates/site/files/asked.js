"use strict";
// What a reader's words ask for: what to look for, what to leave out, how long it may take. A pure function:
// `asked(text, {allergens, ingredients})`, the allergens of each word, and the words that are ingredients.
globalThis.asked = (() => {
  const MINUTE = 60;
  const HOUR = 60 * MINUTE;
  const QUICK = 30 * MINUTE; // common practice, no source
  const BEFORE = [
    "without any", "without", "with no", "no", "not", "non", "sans", "minus", "avoid", "avoiding", "exclude", "excluding",
    "except", "free from", "free of", "allergic to", "allergic", "allergy to", "allergies to", "intolerant to", "intolerant of",
    "intolerance to", "intolerance of", "sensitive to", "hold the", "skip the", "omit", "never", "zero", "lacking", "hate",
    "cant eat", "cant have", "cannot eat", "cannot have", "dont eat", "dont like", "dont have", "dont want", "dont contain",
    "doesnt have", "doesnt contain", "nothing with", "anything but", "other than", "leave out", "leaving out", "instead of",
  ].map((said) => said.split(" ")).sort((one, other) => other.length - one.length);
  const BEHIND = new Set(["free", "less", "allergy", "allergies", "allergic", "intolerance", "intolerant", "sensitivity"]);
  const ALONE = { coeliac: "gluten", celiac: "gluten", gf: "gluten", df: "dairy" };
  const JOINING = new Set(["and", "or", "nor", ",", "&", "plus"]);
  const FILLING = new Set(
    "any the a an of added all much fresh large small raw dry dried ground whole plain light dark heavy fine roasted toasted chopped".split(" "),
  );
  const STOPPING = new Set(["with", "but", "under", "in", "for", "than", "within", "over", ","]);
  const DEEDS = new Set(["bake", "cook", "churn", "knead", "fuss", "rise", "effort", "stir", "hassle", "stress", "guilt", "worry"]);
  const EMPTY = new Set(
    ("freerange a an the and or of for with in on to from at as but so my me your our some any is are am be it its i im we you he she they that this these " +
      "which who what when there has have had can could will would may eat eats recipe recipes dish dishes something anything everything someone " +
      "make made making how need want ideas please just very really good nice best great easy simple tasty ready friendly " +
      "kid kids child children son daughter husband wife partner friend friends guest guests people").split(" "),
  );
  const NUMBERS = { a: 1, an: 1, one: 1, two: 2, three: 3, four: 4, five: 5, six: 6, eight: 8, ten: 10, fifteen: 15, twenty: 20, thirty: 30, forty: 40, "forty five": 45, sixty: 60, ninety: 90, half: 0.5 };
  const UNITS = { m: MINUTE, min: MINUTE, minute: MINUTE, h: HOUR, hr: HOUR, hour: HOUR };
  const GLYPHS = { "½": 0.5, "¼": 0.25, "¾": 0.75 };
  const AT_MOST = new Set(["under", "below", "within", "in", "max", "maximum", "than", "most", "to", "about", "around", "only", "<"]);
  const AT_LEAST = new Set(["over", "above", "longer", "least"]);

  const plain = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().replace(/[’']/g, "");

  /** One spelling for singular and plural, the same in what is asked and in what is found. */
  function stem(word) {
    if (word.length < 4 || /(ss|us)$/.test(word)) return word;
    if (word.endsWith("ies") && word.length > 4) return word.length > 5 && !/(k|wn|nd|oth)ies$/.test(word) ? `${word.slice(0, -3)}y` : word.slice(0, -1);
    if (/(ch|sh|ss|x|o)es$/.test(word)) return word.slice(0, -2);
    return word.endsWith("s") ? word.slice(0, -1) : word;
  }

  /** How many slips of a finger lie between two words: a letter more, less, other, or two the wrong way round. */
  function slips(one, other) {
    const rows = [...Array(one.length + 1)].map((_, row) => [row]);
    for (let column = 0; column <= other.length; column += 1) rows[0][column] = column;
    for (let row = 1; row <= one.length; row += 1) {
      for (let column = 1; column <= other.length; column += 1) {
        const same = one[row - 1] === other[column - 1];
        const turned = row > 1 && column > 1 && one[row - 1] === other[column - 2] && one[row - 2] === other[column - 1];
        rows[row][column] = Math.min(
          rows[row - 1][column] + 1,
          rows[row][column - 1] + 1,
          rows[row - 1][column - 1] + (same ? 0 : 1),
          turned ? rows[row - 2][column - 2] + 1 : Infinity,
        );
      }
    }
    return rows[one.length][other.length];
  }

  const near = (word, wanted) => {
    const few = wanted.length > 6 ? 2 : wanted.length > 3 ? 1 : 0;
    return Math.abs(word.length - wanted.length) <= few && word[0] === wanted[0] && slips(word, wanted) <= few;
  };

  function tokens(text) {
    return plain(text)
      .replace(/\bw\/o\b/g, "without")
      .replace(/\bfree[- ]range\b/g, "freerange")
      .replace(/(\d+)\s*[-–]\s*(?=\d)/g, "")
      .replace(/(\d)(?=[a-z½¼¾])/g, "$1 ")
      .replace(/([½¼¾])(?=[a-z])/g, "$1 ")
      .match(/\d+(?:[./]\d+)?|[½¼¾]|\p{L}+|[,&<]/gu) ?? [];
  }

  /** The whole of what is asked. */
  function asked(text, { allergens = {}, ingredients = new Set() } = {}) {
    const said = tokens(text);
    const found = { words: [], without: [], lacking: [], most: null, least: null };
    let at = 0;

    /** An allergen, or an ingredient, that begins at a place: how many words it has, and what it leaves out. */
    function itemAt(place) {
      for (const long of [3, 2, 1]) {
        const name = said.slice(place, place + long).map(stem).join(" ");
        if (said.length >= place + long && Object.hasOwn(allergens, name)) return { end: place + long, without: allergens[name] };
      }
      const word = stem(said[place] ?? "");
      const known = ingredients.has(word);
      const slip = known || EMPTY.has(word) ? undefined : Object.keys(allergens).find((name) => near(word, name));
      if (slip) return { end: place + 1, without: allergens[slip] };
      return known ? { end: place + 1, lacking: [word] } : null;
    }

    /** An allergen within the next words: no crunchy nuts, peanut butter. */
    function nextAllergen(place) {
      for (let step = place; step < place + 3 && step < said.length; step += 1) {
        if (JOINING.has(said[step]) || STOPPING.has(said[step])) break;
        const item = itemAt(step);
        if (item?.without) return item;
      }
      return null;
    }

    /** Several of them, with what joins them. */
    function listAt(place) {
      const items = [];
      let end = place;
      for (;;) {
        let next = end;
        while (items.length && JOINING.has(said[next])) next += 1;
        if (items.length && next === end) break;
        next += beforeAt(next);
        while (FILLING.has(said[next])) next += 1;
        if (DEEDS.has(said[next])) break;
        const found = [itemAt(next), items.length ? null : nextAllergen(next)].filter(Boolean);
        if (!found.length) break;
        items.push(...found);
        end = Math.max(...found.map((item) => item.end));
      }
      return { items, end };
    }

    /** An allergen or an ingredient written in one with what leaves it out: eggless, glutenfree. */
    function itemAtWord(word) {
      const name = stem(word);
      if (Object.hasOwn(allergens, name)) return { without: allergens[name] };
      return ingredients.has(name) ? { lacking: [name] } : null;
    }

    /** A word that no list has and that is said to be left out all the same: cholesterol free. */
    function strangerAt(place) {
      const word = said[place];
      const kept = EMPTY.has(word) || FILLING.has(word) || STOPPING.has(word) || DEEDS.has(word) || /^[\d<&½¼¾]/.test(word);
      return !kept && said[place + 1] === "free" && !["from", "of"].includes(said[place + 2]) ? { end: place + 1, lacking: [stem(word)] } : null;
    }

    /** A list with what leaves it out behind it, one more word between them: nuts free, peanut butter free. */
    function behind() {
      const items = [];
      for (let end = at; end < Math.min(said.length, at + 8); ) {
        if (items.length && BEHIND.has(said[end]) && !["than", "from", "of"].includes(said[end + 1])) {
          const named = items.filter((item) => item.without);
          return { items: named.length ? named : items, end: end + 1 };
        }
        const item = itemAt(end) ?? strangerAt(end);
        if (item) items.push(item);
        else if (!items.length || !(JOINING.has(said[end]) || BEHIND.has(said[end + 1]))) return null;
        end = item?.end ?? end + 1;
      }
      return null;
    }

    function beforeAt(place) {
      const exact = BEFORE.find((words) => words.every((word, step) => said[place + step] === word));
      if (exact) return exact.length;
      return said[place]?.length > 5 && near(said[place], "without") ? 1 : 0;
    }

    const leaveOut = ({ items, end }) => {
      for (const { without = [], lacking = [] } of items) {
        found.without.push(...without);
        found.lacking.push(...lacking);
      }
      at = end;
    };

    function excluded() {
      const before = beforeAt(at);
      if (before) {
        const list = listAt(at + before);
        if (list.items.length) {
          leaveOut(list);
          if (BEHIND.has(said[at])) at += 1;
          return true;
        }
        const next = said[at + before];
        if (next === undefined || DEEDS.has(next)) {
          at += before + (next ? 1 : 0);
          return true;
        }
        if (!EMPTY.has(next) && !/\d/.test(next)) {
          found.lacking.push(stem(next));
          at += before + 1;
          return true;
        }
        return false;
      }
      const list = behind();
      if (list) {
        leaveOut(list);
        while (["to", "from"].includes(said[at])) at += 1;
        return true;
      }
      const [, glued] = said[at].match(/^(?:non)?(.{3,}?)(?:less|free)$/) ?? said[at].match(/^non(.{3,})$/) ?? [];
      const bare = glued && itemAtWord(glued);
      if (bare) {
        leaveOut({ items: [bare], end: at + 1 });
        return true;
      }
      const alone = Object.keys(ALONE).find((word) => near(said[at], word));
      if (alone) {
        leaveOut({ items: [{ without: allergens[ALONE[alone]] ?? [] }], end: at + 1 });
        return true;
      }
      return false;
    }

    /** A number that begins at a place, with its end; half an hour, 1 1/2, an hour and a half. */
    function numberAt(place) {
      const word = said[place];
      if (word === undefined) return null;
      if (/^\d/.test(word)) {
        const [over, under] = word.split("/").map(Number);
        const value = under ? over / under : over;
        const part = said[place + 1];
        if (GLYPHS[part]) return { value: value + GLYPHS[part], end: place + 2 };
        if (/^1\/[24]$/.test(part ?? "")) return { value: value + 1 / Number(part.slice(2)), end: place + 2 };
        return { value, end: place + 1 };
      }
      if (GLYPHS[word]) return { value: GLYPHS[word], end: place + 1 };
      const two = `${word} ${said[place + 1]}`;
      if (Object.hasOwn(NUMBERS, two)) return { value: NUMBERS[two], end: place + 2 };
      if (word === "half" && ["an", "a"].includes(said[place + 1])) return { value: 0.5, end: place + 2 };
      return Object.hasOwn(NUMBERS, word) ? { value: NUMBERS[word], end: place + 1 } : null;
    }

    /** A time that begins at a place, in seconds. */
    function timeAt(place) {
      const number = numberAt(place);
      const unit = number && UNITS[stem(said[number.end] ?? "")] ;
      if (!unit) return null;
      let { end } = number;
      let seconds = number.value * unit;
      end += 1;
      const more = unit === HOUR ? numberAt(end + (said[end] === "and" ? 1 : 0)) : null;
      if (more && said[end] === "and" && more.value === 1 && said[more.end] === "half") {
        return { seconds: seconds + HOUR / 2, end: more.end + 1 };
      }
      if (more && more.value >= 5) {
        end = more.end + (UNITS[stem(said[more.end] ?? "")] === MINUTE ? 1 : 0);
        seconds += more.value * MINUTE;
      }
      return { seconds, end };
    }

    function timed() {
      let place = at;
      let least = false;
      let bounded = false;
      for (const _ of [0, 1]) {
        const word = said[place];
        const compared = ["less", "more", "at", "up"].includes(word) && (AT_MOST.has(said[place + 1]) || AT_LEAST.has(said[place + 1]));
        if (compared) {
          least ||= word === "more" || AT_LEAST.has(said[place + 1]);
          place += 2;
        } else if (AT_MOST.has(word) || AT_LEAST.has(word)) {
          least ||= AT_LEAST.has(word);
          place += 1;
        } else break;
        bounded = true;
      }
      let time = timeAt(place);
      const bare = numberAt(place);
      if (!time && bounded && bare && /^\d/.test(said[place]) && bare.value >= 5) time = { seconds: bare.value * MINUTE, end: bare.end };
      if (!time) return false;
      if (least) found.least = Math.max(found.least ?? 0, time.seconds);
      else found.most = Math.min(found.most ?? Infinity, time.seconds);
      at = time.end;
      if (["or", "and"].includes(said[at]) && ["less", "under", "fewer"].includes(said[at + 1])) at += 2;
      return true;
    }

    while (at < said.length) {
      const quick = ["quick", "fast", "speedy"].includes(said[at]) && stem(said[at + 1] ?? "") !== "bread";
      if (quick) {
        found.most = Math.min(found.most ?? Infinity, QUICK);
        at += 1;
      } else if (DEEDS.has(said[at]) && said[at + 1] === "free") {
        at += 2;
      } else if (!timed() && !excluded()) {
        if (/[\p{L}\d]/u.test(said[at]) && !EMPTY.has(said[at])) found.words.push(stem(said[at]));
        at += 1;
      }
    }
    found.without = [...new Set(found.without)];
    found.lacking = [...new Set(found.lacking)];
    return found;
  }

  return Object.assign(asked, { plain, stem });
})();
