import { keyFinding } from "./descriptor-faults.ts";
import type { Finding } from "./finding.ts";
import { type KeyPath, valueAt } from "./key-path.ts";
import { fittingName, NAME_PATTERN } from "./name-text.ts";
import { VAGUEST_SIGMA } from "./range.ts";
import { pathFault } from "./resource-path.ts";
import { shown } from "./shown-text.ts";
import type { StructureCode } from "./structure-codes.ts";

/**
 * What the schema cannot say: rules between the descriptor's values. They look at whatever is there, whether or not the
 * rest is valid, so that all faults come in one go.
 */
export function ruleFaults(json: unknown): Finding[] {
  return [...channelFaults(json), ...energyFaults(json), ...blurFaults(json), ...resourceFaults(json)];
}

function channelFaults(json: unknown): Finding[] {
  const path = ["alcedo", "detector", "channels"];
  const findings: Finding[] = [];
  const firstOf = new Map<string, string>();
  for (const [i, channel] of texts(valueAt(json, path))) {
    const name = fittingName(channel);
    const at = [...path, i];
    const first = firstOf.get(name);
    if (name === "") {
      findings.push(
        keyFinding("value-form", at, `is ${shown(channel)}; nothing of it can be used as a channel's name.`),
      );
    } else if (first !== undefined) {
      const both =
        first === channel
          ? `is ${shown(channel)} a second time`
          : `is ${shown(channel)}, which becomes ${name} like ${shown(first)}`;
      findings.push(keyFinding("channel-duplicate", at, `${both}.`));
    } else {
      firstOf.set(name, channel);
      if (!NAME_PATTERN.test(channel)) {
        findings.push(
          keyFinding(
            "channel-renamed",
            at,
            `is ${shown(channel)}; the channel is called ${name} in results and columns.`,
          ),
        );
      }
    }
  }
  return findings;
}

function blurFaults(json: unknown): Finding[] {
  const path = ["alcedo", "assumptions", "penumbraSigma_mm"];
  const [value, u] = [valueAt(json, [...path, "value"]), valueAt(json, [...path, "u"])];
  if (typeof value !== "number" || typeof u !== "number" || u <= VAGUEST_SIGMA * value) return [];
  const what = `is ${u}, more than half of the value ${value}: the blur is drawn between value ± √3·u, which must stay above zero.`;
  return [keyFinding("value-range", [...path, "u"], what, { remedy: "State the standard uncertainty, not a range." })];
}

function energyFaults(json: unknown): Finding[] {
  const modality = valueAt(json, ["alcedo", "beam", "modality"]);
  const wrong = modality === "photon" ? "energy_MeV" : modality === "electron" ? "energy_MV" : undefined;
  if (wrong === undefined || valueAt(json, ["alcedo", "beam", wrong]) === undefined) return [];
  const right = modality === "photon" ? "energy_MV" : "energy_MeV";
  const remedy = `Write ${right}, or correct the modality.`;
  return [
    keyFinding(
      "energy-unit",
      ["alcedo", "beam", wrong],
      `is given, but the energy of ${String(modality)} beams is ${right}.`,
      {
        remedy,
      },
    ),
  ];
}

function resourceFaults(json: unknown): Finding[] {
  const resources = valueAt(json, ["resources"]);
  if (!Array.isArray(resources)) return [];
  const findings: Finding[] = [];
  const once = (code: StructureCode, end: readonly string[], key: (value: string) => string, what: string) => {
    const seen = new Map<string, number>();
    resources.forEach((_, i) => {
      const at: KeyPath = ["resources", i, ...end];
      const value = valueAt(json, at);
      if (typeof value !== "string") return;
      const earlier = seen.get(key(value));
      if (earlier === undefined) seen.set(key(value), i);
      else findings.push(keyFinding(code, at, `is ${shown(value)}, ${what} resources[${earlier}] already has.`));
    });
  };
  once("resource-duplicate", ["name"], (name) => name, "the name that");
  // Case aside: some file systems take such paths for one.
  once("resource-duplicate", ["path"], (path) => path.toLowerCase(), "the path that");
  once("series-duplicate", ["alcedo", "series"], (series) => series, "the series that");
  resources.forEach((_, i) => {
    const path = valueAt(json, ["resources", i, "path"]);
    const fault = typeof path === "string" ? pathFault(path) : undefined;
    if (fault !== undefined)
      findings.push(keyFinding("path-outside", ["resources", i, "path"], `is ${shown(String(path))}, which ${fault}.`));
  });
  const kinds = resources.map((_, i) => valueAt(json, ["resources", i, "alcedo", "series"]));
  const other = kinds.indexOf("characterisation");
  if (other >= 0 && kinds.includes("separation")) {
    const what = "is a characterisation from another day, and the campaign has a separation of its own as well.";
    findings.push(keyFinding("series-conflict", ["resources", other, "alcedo", "series"], what));
  }
  return findings;
}

function texts(list: unknown): [number, string][] {
  if (!Array.isArray(list)) return [];
  return list.flatMap((entry, i): [number, string][] =>
    typeof entry === "string" && entry !== "" ? [[i, entry]] : [],
  );
}
