import { colonHint, keyHint, nextHint, trailingHint, valueHint } from "./json-hints.ts";
import { stringEnd } from "./json-string.ts";

/** Something wrong in a JSON text, at an offset; `path` leads to the value that it is about. */
export interface JsonFault {
  readonly kind: "syntax" | "duplicate-key" | "too-deep" | "value";
  readonly offset: number;
  readonly message: string;
  readonly path: readonly (string | number)[];
}

/** Levels of nesting that are read; a campaign needs eight. Deeper ones could exhaust the stack of whoever walks the value. */
export const DEPTH_LIMIT = 64;

/** An object or list that is open: the key or position being read, and an object's keys so far. */
interface Frame {
  readonly keys?: Set<string>;
  at: string | number;
}

/** What may stand next: a value; a value or the end of a list; a key; a key or the end of an object; what follows a value. */
type Expected = "value" | "value-or-end" | "key" | "key-or-end" | "comma-or-end";

const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const WORD = /true|false|null/y;
const BLANK = /[ \t\n\r]*/y;

/**
 * Walks through a JSON text (RFC 8259) and finds what `JSON.parse` hides or tells differently in every engine: the place of
 * the first syntax error, keys that are given twice (the parser keeps the last in silence), nesting without measure, and
 * values that cannot be kept exactly (numbers that overflow, lone surrogates). It keeps a stack of its own, so that no
 * input exhausts the program's.
 *
 * @returns faults in the text's order; behind a syntax error or too deep nesting nothing more is looked at
 */
export function scanJson(text: string): JsonFault[] {
  const faults: JsonFault[] = [];
  const stack: Frame[] = [];
  let offset = 0;
  let expected: Expected = "value";

  const fault = (kind: JsonFault["kind"], at: number, message: string) => {
    faults.push({ kind, offset: at, message, path: stack.map((frame) => frame.at) });
  };
  const lengthOf = (pattern: RegExp): number => {
    pattern.lastIndex = offset;
    return pattern.exec(text)?.[0].length ?? 0;
  };

  /** Reads a text in quotes and returns it; `undefined` after a fault. */
  const readString = (): string | undefined => {
    const start = offset;
    const end = stringEnd(text, start);
    if (end.fault !== undefined) {
      fault("syntax", end.offset, end.fault);
      return undefined;
    }
    offset = end.offset;
    const value = JSON.parse(text.slice(start, offset)) as string;
    if (/\p{Surrogate}/u.test(value)) fault("value", start, "the text holds half of a surrogate pair");
    return value;
  };

  /** Reads a key with its colon; false after a fault. */
  const readKey = (frame: Frame): boolean => {
    const start = offset;
    const key = readString();
    if (key === undefined) return false;
    frame.at = key;
    if (frame.keys!.has(key)) fault("duplicate-key", start, "the key is given twice in one object");
    frame.keys!.add(key);
    offset += lengthOf(BLANK);
    if (text[offset] !== ":") {
      fault("syntax", offset, colonHint(text, offset));
      return false;
    }
    offset += 1;
    return true;
  };

  /** Reads a number or one of the three words; false after a fault. */
  const readScalar = (): boolean => {
    const length = lengthOf(NUMBER) || lengthOf(WORD);
    if (length === 0) {
      fault("syntax", offset, valueHint(text, offset));
      return false;
    }
    const value = Number(text.slice(offset, offset + length));
    if (value === Number.POSITIVE_INFINITY || value === Number.NEGATIVE_INFINITY) {
      fault("value", offset, "the number is too large to be held");
    }
    offset += length;
    return true;
  };

  for (;;) {
    offset += lengthOf(BLANK);
    const character = text[offset];
    const frame = stack.at(-1);
    const close = frame?.keys === undefined ? "]" : "}";
    if (frame !== undefined && character === close && expected !== "value" && expected !== "key") {
      stack.pop();
      offset += 1;
      expected = "comma-or-end";
    } else if (expected === "comma-or-end") {
      if (frame === undefined) {
        if (offset < text.length) fault("syntax", offset, nextHint(text, offset, undefined));
        return faults;
      }
      if (character !== ",") {
        fault("syntax", offset, nextHint(text, offset, close));
        return faults;
      }
      offset += 1;
      if (typeof frame.at === "number") frame.at += 1;
      expected = frame.keys === undefined ? "value" : "key";
    } else if (expected === "key" || expected === "key-or-end") {
      if (character !== '"') {
        fault("syntax", offset, character === "}" ? trailingHint(close) : keyHint(text, offset));
        return faults;
      }
      if (!readKey(frame!)) return faults;
      expected = "value";
    } else if (character === "{" || character === "[") {
      if (stack.length === DEPTH_LIMIT) {
        fault("too-deep", offset, `nested deeper than ${DEPTH_LIMIT} levels`);
        return faults;
      }
      stack.push(character === "{" ? { keys: new Set(), at: "" } : { at: 0 });
      offset += 1;
      expected = character === "{" ? "key-or-end" : "value-or-end";
    } else {
      if (character === "]" && frame?.keys === undefined && frame !== undefined) {
        fault("syntax", offset, trailingHint(close));
        return faults;
      }
      if (character === '"' ? readString() === undefined : !readScalar()) return faults;
      expected = "comma-or-end";
    }
  }
}
