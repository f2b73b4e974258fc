import pico from "picocolors";

/** What the program writes to: `process.stdout` is one. */
export interface Stream {
  write(text: string): unknown;
  readonly isTTY?: boolean;
  readonly columns?: number;
}

/** The part of the environment that the program looks at. */
export type Environment = Readonly<Record<string, string | undefined>>;

/** Colours, or nothing where there are none. Whatever they say is said by a word or a shape as well. */
export type Ink = Pick<
  ReturnType<typeof pico.createColors>,
  "bold" | "dim" | "red" | "green" | "yellow" | "blueBright"
>;

/** A stream as a page of text. */
export interface Page {
  /** Columns of text. */
  readonly width: number;
  readonly ink: Ink;
  print(lines: readonly string[]): void;
}

/** Text lines are not drawn out further than this: longer ones read badly. */
const WIDEST = 120;
const NARROWEST = 40;
const USUAL = 80;

/**
 * A stream as a page. It is coloured where it is a terminal that can, and NO_COLOR is not set (https://no-color.org); its width
 * is the terminal's, else that of the variable COLUMNS, else 80 columns.
 */
export function pageOn(stream: Stream, env: Environment): Page {
  const plain = (env["NO_COLOR"] ?? "") !== "" || env["TERM"] === "dumb";
  const stated = Number(env["COLUMNS"]);
  const columns = stream.columns ?? (Number.isInteger(stated) && stated > 0 ? stated : USUAL);
  return {
    width: Math.min(WIDEST, Math.max(NARROWEST, columns)),
    ink: pico.createColors(stream.isTTY === true && !plain),
    print(lines) {
      if (lines.length > 0) stream.write(`${lines.join("\n")}\n`);
    },
  };
}
