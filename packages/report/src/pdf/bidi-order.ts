import bidiFactory from "bidi-js";

const bidi = bidiFactory();

/** Letters that are written from right to left, and marks that turn the direction. */
const RIGHT_TO_LEFT =
  /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}\u2066-\u2069]/u;

/** True where text does not simply run from left to right. */
export function turns(text: string): boolean {
  return RIGHT_TO_LEFT.test(text);
}

/** A stretch of text from `start` to before `end`, in the order in which stretches are drawn from the left. */
export interface Stretch {
  readonly start: number;
  readonly end: number;
  readonly rightToLeft: boolean;
}

/** The embedding levels of a paragraph whose base runs from left to right (Unicode Standard Annex #9). */
export function levelsOf(text: string): Uint8Array {
  return bidi.getEmbeddingLevels(text, "ltr").levels;
}

/**
 * The stretches of a line in the order in which they are drawn. A stretch from right to left is one word or one run of
 * blanks: its letters are put in order by the font's own shaping, the words here.
 */
export function drawnOrder(text: string, levels: Uint8Array, start: number, end: number): readonly Stretch[] {
  const stretches: Stretch[] = [];
  let at = start;
  while (at < end) {
    const level = levels[at]!;
    let to = at + 1;
    while (to < end && levels[to] === level) to++;
    const rightToLeft = level % 2 === 1;
    stretches.push(...(rightToLeft ? words(text, at, to) : [{ start: at, end: to, rightToLeft }]));
    at = to;
  }
  return reordered(stretches, levels);
}

function words(text: string, start: number, end: number): Stretch[] {
  return [...text.slice(start, end).matchAll(/\s+|\S+/gu)].map((match) => ({
    start: start + match.index,
    end: start + match.index + match[0].length,
    rightToLeft: true,
  }));
}

/** Rule L2: from the highest level down to the lowest odd one, what lies at that level or above is turned round. */
function reordered(stretches: readonly Stretch[], levels: Uint8Array): readonly Stretch[] {
  const order = [...stretches];
  const levelOf = ({ start }: Stretch) => levels[start]!;
  const highest = order.reduce((most, stretch) => Math.max(most, levelOf(stretch)), 0);
  for (let level = highest; level >= 1; level--) {
    for (let i = 0; i < order.length; i++) {
      if (levelOf(order[i]!) < level) continue;
      let j = i;
      while (j + 1 < order.length && levelOf(order[j + 1]!) >= level) j++;
      order.splice(i, j - i + 1, ...order.slice(i, j + 1).reverse());
      i = j;
    }
  }
  return order;
}

/**
 * A piece of a word from right to left as it is handed to its font: brackets look the other way there. Fonts put letters
 * of such scripts in order themselves; signs that stand alone are put in order here.
 */
export function mirrored(piece: string): string {
  const characters = [...piece].map((character) => bidi.getMirroredCharacter(character) ?? character);
  return (turns(piece) ? characters : characters.reverse()).join("");
}
