import { type Descriptor, type Resource, resourceSchema, type SeriesKind } from "./descriptor.ts";
import { schemaFaults } from "./descriptor-faults.ts";
import { ruleFaults } from "./descriptor-rules.ts";
import { type Finding, isError } from "./finding.ts";
import { valueAt } from "./key-path.ts";
import { fittingName } from "./name-text.ts";
import { pathFault } from "./resource-path.ts";

/** As much of a descriptor as the tables are read with. */
export interface Outline {
  /** Channel names as results use them, in the order of signals. */
  readonly channels: readonly string[];
  /** The tables that can be looked at, in the descriptor's order. */
  readonly resources: readonly OutlineResource[];
  /** The characterisation from another day, where one is named. */
  readonly characterisation?: { readonly name: string; readonly path: string };
}

/** A table to be read. */
export interface OutlineResource {
  readonly name: string;
  readonly path: string;
  readonly series: TableSeriesKind;
  /** The resource as typed, for its dialect and schema. */
  readonly resource: Resource;
}

/** The kinds of series that are tables. */
export type TableSeriesKind = Exclude<SeriesKind, "characterisation">;

/** What reading a descriptor gives: the descriptor where it is valid, the outline where tables can at least be looked at. */
export interface DescriptorReading {
  readonly descriptor?: Descriptor;
  readonly outline?: Outline;
  readonly findings: readonly Finding[];
}

/**
 * Reads the JSON value of `datapackage.json`: all faults in one go, the value itself handed back untouched when there is no
 * error. With faults, the outline still allows to look for those in the tables.
 */
export function readDescriptor(json: unknown): DescriptorReading {
  const form = schemaFaults(json);
  const findings = [...form, ...ruleFaults(json)];
  const outline = outlineOf(json, form.length === 0);
  return {
    ...(findings.some(isError) ? {} : { descriptor: json as Descriptor }),
    ...(outline === undefined ? {} : { outline }),
    findings,
  };
}

/**
 * The outline of a descriptor, valid or not; `undefined` when its channels are unknown. Faulty resources are left out.
 * @param valid whether it is known to fit the schema.
 */
export function outlineOf(json: unknown, valid = false): Outline | undefined {
  const channels = valueAt(json, ["alcedo", "detector", "channels"]);
  const listed = valueAt(json, ["resources"]);
  if (!Array.isArray(channels) || !channels.every((channel) => typeof channel === "string")) return undefined;
  const names = channels.map(fittingName);
  if (names.length === 0 || names.includes("") || new Set(names).size < names.length || !Array.isArray(listed))
    return undefined;
  const resources: OutlineResource[] = [];
  let characterisation: Outline["characterisation"];
  for (const entry of listed) {
    const resource = valid ? (entry as Resource) : resourceSchema.safeParse(entry, { jitless: true }).data;
    if (!resource || pathFault(resource.path) !== undefined) continue;
    const { name, path } = resource;
    const series = resource.alcedo.series;
    if (series === "characterisation") {
      characterisation ??= { name, path };
      continue;
    }
    if (resources.some((other) => other.name === name || other.path === path || other.series === series)) continue;
    resources.push({ name, path, series, resource });
  }
  return { channels: names, resources, ...(characterisation && { characterisation }) };
}
