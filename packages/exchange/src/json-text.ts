import {
  dotted,
  type Finding,
  jsonPointer,
  type StructureCode,
  shownName,
  structureFinding,
  type Where,
} from "@alcedo-dosimetry/campaign";
import { type JsonFault, scanJson } from "./json-scan.ts";

const CODES: Readonly<Record<JsonFault["kind"], StructureCode>> = {
  syntax: "json-syntax",
  "duplicate-key": "json-duplicate-key",
  "too-deep": "json-too-deep",
  value: "json-value",
};

/** Reads a JSON text: its value, or what is wrong with it by line and column (both from 1, columns in characters). */
export function readJson(
  text: string,
  where: Where & { readonly file: string },
): { readonly value: unknown } | { readonly findings: readonly Finding[] } {
  const faults = scanJson(text);
  if (faults.length === 0) return { value: JSON.parse(text) as unknown };
  return { findings: faults.map((fault) => faultFinding(fault, text, where)) };
}

function faultFinding(fault: JsonFault, text: string, where: Where & { readonly file: string }): Finding {
  const { line, column } = position(text, fault.offset);
  const about = fault.kind === "duplicate-key" || fault.kind === "value" ? ` ${shownName(dotted(fault.path))}:` : "";
  const message = `${shownName(where.file)}, line ${line}, character ${column}:${about} ${fault.message}.`;
  const at = { ...where, line, ...(fault.kind === "syntax" ? {} : { key: jsonPointer(fault.path) }) };
  return structureFinding(CODES[fault.kind], message, { where: at, facts: { line, character: column } });
}

function position(text: string, offset: number): { line: number; column: number } {
  const before = text.slice(0, offset);
  const start = before.lastIndexOf("\n") + 1;
  let line = 1;
  for (let i = before.indexOf("\n"); i >= 0; i = before.indexOf("\n", i + 1)) line += 1;
  return { line, column: [...before.slice(start)].length + 1 };
}
