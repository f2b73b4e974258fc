/**
 * An element of a drawing, as plain data. `fill` and `stroke` hold a role (see `Role`) or `none`, never a colour: a theme
 * puts the colours in. No inline style, no class, no script.
 */
export interface DrawingElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (DrawingElement | string)[];
}

/** A finished picture: a tree of SVG elements, and the words that stand for it where it cannot be seen. */
export interface Figure {
  /** Stable, unique among an evaluation's figures; also the word of `alcedo figure`. */
  readonly id: string;
  readonly title: string;
  /** Alternative text: what the figure shows, with its numbers. */
  readonly description: string;
  /** User units, CSS pixels at natural size. */
  readonly width: number;
  readonly height: number;
  readonly root: DrawingElement;
}
