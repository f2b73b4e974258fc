import { isNumberText, shown } from "@alcedo-dosimetry/campaign";
import { paddedDecimal } from "@alcedo-dosimetry/tabular";
import type { Cell } from "@alcedo-dosimetry/tabular/workbook";
import type { KeyType } from "./key-paths.ts";

/** The value of a key, and what was done to make it one of the type that the key has. */
export interface KeyValue {
  readonly value: unknown;
  /** Continues "the value is", where the cell held another type. */
  readonly conversion?: string;
}

/**
 * The value that a cell gives a key of that type. What does not fit is handed back as it is, and the descriptor's own reading
 * says what is wrong with it.
 */
export function keyValue({ content, format }: Cell, type: KeyType | undefined): KeyValue | "error" | "date" {
  if (content.kind === "error" || content.kind === "uncomputed") return "error";
  if (content.kind === "iso-date" || (content.kind === "number" && format.shows === "date")) return "date";
  if (content.kind === "boolean") {
    if (type !== "text" && type !== "texts") return { value: content.value };
    return typed(content.value ? "TRUE" : "FALSE", type, "read as a text");
  }
  if (content.kind === "number") {
    if (type === "number" || type === "boolean" || type === undefined) return { value: Number(content.text) };
    const text = format.shows === "number" ? paddedDecimal(content.text, format.decimals) : content.text;
    return typed(text, type, "read as a text");
  }
  const text = content.text.trim();
  if (type === "number" && isNumberText(text, ".") && Number.isFinite(Number(text)))
    return { value: Number(text), conversion: `the text ${shown(text)} read as a number` };
  if (type === "boolean" && /^(true|false)$/i.test(text))
    return { value: text.toLowerCase() === "true", conversion: `the text ${shown(text)} read as TRUE or FALSE` };
  return typed(content.text, type);
}

function typed(text: string, type: KeyType | undefined, conversion?: string): KeyValue {
  const value = type === "structure" || type === "texts" ? structured(text, type) : text;
  return conversion === undefined ? { value } : { value, conversion };
}

/** A list of words, or JSON. */
function structured(text: string, type: "structure" | "texts"): unknown {
  if (type === "texts" && !text.trim().startsWith("["))
    return text
      .split(",")
      .map((word) => word.trim())
      .filter((word) => word !== "");
  try {
    return JSON.parse(text) as unknown;
  } catch {
    // Not JSON: the text as it is, which the reading of descriptors refuses with the type that it needs.
    return text;
  }
}
