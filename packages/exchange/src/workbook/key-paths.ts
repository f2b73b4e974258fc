import { formatSchema, type JsonSchema, type KeyPath, SERIES_KINDS } from "@alcedo-dosimetry/campaign";

/** Parts of the descriptor that are written without `alcedo.` in front. */
const OWN_PARTS = ["detector", "beam", "assumptions", "criteria"];

/** Front of the keys that describe the table of one series: `series.separation.title`. */
export const SERIES_PART = "series";

/** Properties of a resource that say where and how its file is written: a sheet has none of them. */
export const FILE_FORM = ["format", "mediatype", "encoding", "bytes", "hash", "dialect", "schema"];

/** What the schema says of a key. */
export type KeyType = "text" | "number" | "boolean" | "texts" | "structure";

/** A key as a sheet writes it, for a path into the descriptor. */
export function sheetKey(path: KeyPath): string {
  const [first, second] = path;
  return (first === "alcedo" && OWN_PARTS.includes(String(second)) ? path.slice(1) : path).join(".");
}

/** The path into the descriptor that a sheet's key stands for. Keys of series stay as they are. */
export function descriptorPath(key: string): readonly string[] {
  const parts = key.split(".").map((part) => part.trim());
  return OWN_PARTS.includes(parts[0]!) ? ["alcedo", ...parts] : parts;
}

/** True for a key about the table of one series, `series.<series>.<key>`. */
export function isSeriesKey([front, series, ...rest]: readonly string[]): boolean {
  return front === SERIES_PART && SERIES_KINDS.some((kind) => kind === series) && rest.length > 0;
}

interface Node {
  readonly type?: string;
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
}

/** The type of the value at a path of the descriptor (or of a series' resource), read off its published schema. */
export function keyType(path: readonly string[], schema: JsonSchema): KeyType | undefined {
  const root = schema as Node;
  let node: Node | undefined = isSeriesKey(path) ? root.properties?.["resources"]?.items : root;
  for (const part of isSeriesKey(path) ? path.slice(2) : path) {
    const properties: Readonly<Record<string, Node>> = node?.properties ?? {};
    node = Object.hasOwn(properties, part) ? properties[part] : undefined;
  }
  switch (node?.type ?? typeof (node?.const ?? node?.enum?.[0])) {
    case "string":
      return "text";
    case "number":
    case "integer":
      return "number";
    case "boolean":
      return "boolean";
    case "array":
      return node?.items?.type === "string" ? "texts" : "structure";
    case "object":
      return "structure";
    default:
      return undefined;
  }
}

/** The published schema, made once. */
export function keySchema(): JsonSchema {
  schema ??= formatSchema();
  return schema;
}

let schema: JsonSchema | undefined;
