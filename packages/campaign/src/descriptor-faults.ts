import * as z from "zod";
import { descriptorSchema } from "./descriptor.ts";
import type { Finding } from "./finding.ts";
import { dotted, jsonPointer, type KeyPath, valueAt } from "./key-path.ts";
import { nearestKey } from "./nearest-key.ts";
import { shown, shownName, shownValue } from "./shown-text.ts";
import type { StructureCode } from "./structure-codes.ts";
import { structureFinding } from "./structure-finding.ts";

/** Name of the descriptor's file inside a campaign folder. */
export const DESCRIPTOR_FILE = "datapackage.json";

/** A finding at a key of a JSON file, the descriptor unless said otherwise; its message begins with the file and the key. */
export function keyFinding(
  code: StructureCode,
  path: KeyPath,
  what: string,
  details: { remedy?: string; facts?: Record<string, string | number> } = {},
  file = DESCRIPTOR_FILE,
): Finding {
  const where = { file, key: jsonPointer(path) };
  return structureFinding(code, `${file}: ${dotted(path)} ${what}`, { where, ...details });
}

/** Checks a JSON value against a schema, the descriptor's unless said otherwise: all faults in one go, each at its key. */
export function schemaFaults(json: unknown, schema: z.ZodType = descriptorSchema, file = DESCRIPTOR_FILE): Finding[] {
  // Without just-in-time compilation: a strict content security policy forbids generated code.
  const outcome = schema.safeParse(json, { jitless: true });
  if (outcome.success) return [];
  return outcome.error.issues.flatMap((issue) => issueFindings(issue, json, { schema, file }));
}

/** The file at fault, and what it ought to be. */
interface Judged {
  readonly schema: z.ZodType;
  readonly file: string;
}

function issueFindings(issue: z.core.$ZodIssue, json: unknown, judged: Judged): Finding[] {
  const path = issue.path as KeyPath;
  const { file } = judged;
  if (issue.code === "unrecognized_keys") return issue.keys.map((key) => unknownKey(path, key, judged));
  const value = valueAt(json, path);
  if (value === undefined && path.length > 0) return [missingKey(path, file)];
  if (issue.code === "invalid_type") {
    const type = TYPES[issue.expected] ?? issue.expected;
    return [
      keyFinding(
        "value-type",
        path,
        `is ${shownValue(value)}, where ${type} is needed.`,
        { remedy: `Write ${type}.` },
        file,
      ),
    ];
  }
  if (issue.code === "invalid_value") return [wrongChoice(path, value, issue.values, file)];
  if (issue.code === "too_small" || issue.code === "too_big") {
    const code = issue.origin === "number" || issue.origin === "int" ? "value-range" : "value-form";
    return [keyFinding(code, path, `is ${shownValue(value)}; it ${issue.message}.`, {}, file)];
  }
  return [keyFinding("value-form", path, `is ${shownValue(value)}; it ${issue.message}.`, {}, file)];
}

const TYPES: Readonly<Record<string, string>> = {
  string: 'a text in "quotes"',
  number: "a number without quotes",
  int: "a whole number",
  boolean: "true or false",
  object: "an object { … }",
  array: "a list [ … ]",
};

function unknownKey(parent: KeyPath, key: string, { schema, file }: Judged): Finding {
  const known = knownKeys(parent, schema);
  const nearest = nearestKey(key, known);
  const where = { file, key: jsonPointer([...parent, key]) };
  const message = `${file}: ${dotted(parent)} has the unknown key ${shown(key)}${nearest ? `; the nearest known one is ${nearest}` : ""}.`;
  const remedy = nearest
    ? `Write ${nearest}, or remove the key.`
    : `Remove the key; known here are ${known.join(", ") || "none"}.`;
  return structureFinding("key-unknown", message, { where, remedy, ...(nearest ? { facts: { nearest } } : {}) });
}

function missingKey(path: KeyPath, file: string): Finding {
  const parent = dotted(path.slice(0, -1));
  const key = String(path.at(-1));
  const where = { file, key: jsonPointer(path) };
  const remedy = `Add ${shown(key)} to ${parent === "the top level" ? parent : shownName(parent)}.`;
  return structureFinding("key-missing", `${file}: ${parent} lacks the key ${key}, which is needed.`, {
    where,
    remedy,
  });
}

function wrongChoice(path: KeyPath, value: unknown, choices: readonly unknown[], file: string): Finding {
  const list = choices.map((choice) => JSON.stringify(choice)).join(", ");
  if (dotted(path) === "alcedo.version")
    return keyFinding("version-unsupported", path, `is ${shownValue(value)}; this program reads version 1.`);
  const nearest = typeof value === "string" ? nearestKey(value, choices.map(String)) : undefined;
  const remedy = nearest ? `Write "${nearest}".` : `Write ${choices.length > 1 ? "one of " : ""}${list}.`;
  return keyFinding(
    "value-choice",
    path,
    `is ${shownValue(value)}; possible ${choices.length > 1 ? "are" : "is"} ${list}.`,
    { remedy },
    file,
  );
}

/** The keys that the schema knows for the object at a path, read off the generated JSON Schema. */
function knownKeys(path: KeyPath, schema: z.ZodType): string[] {
  interface Node {
    properties?: Record<string, Node>;
    items?: Node;
  }
  let node: Node | undefined = z.toJSONSchema(schema) as Node;
  for (const part of path) node = typeof part === "number" ? node?.items : node?.properties?.[part];
  return Object.keys(node?.properties ?? {});
}
