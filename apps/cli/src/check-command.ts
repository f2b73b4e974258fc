import {
  type Campaign,
  countInWords,
  type Finding,
  interpret,
  isError,
  SERIES_KINDS,
  type SeriesReadings,
  VERSION,
} from "@alcedo-dosimetry/campaign";
import { findingsByFile } from "./finding-text.ts";
import { jsonText } from "./json-output.ts";
import { openCampaign } from "./open-campaign.ts";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { layTable } from "./table.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";

/** What one series of a campaign holds. */
interface SeriesOutline {
  readonly series: string;
  readonly file: string;
  readonly readings: number;
  readonly excluded: number;
  readonly conditions: readonly { readonly name: string; readonly readings: number }[];
}

/** `alcedo check`: the form of a campaign, all faults in one go; where there are none, what it holds. */
export async function checkCommand(folder: string, { json = false }: { json?: boolean }, world: World): Promise<0 | 2> {
  const { campaign, findings: found } = await openCampaign(folder);
  const interpretation = campaign && interpret(campaign);
  const findings = [...found, ...(interpretation?.findings ?? [])];
  const outlines = interpretation ? SERIES_KINDS.flatMap((kind) => outlineOf(interpretation.series, kind) ?? []) : [];
  const status = campaign && !findings.some(isError) ? 0 : 2;
  const { page } = world;
  if (json) {
    const name = campaign ? campaign.descriptor.name : null;
    world.stdout.write(jsonText({ alcedo: VERSION, campaign: name, sound: status === 0, series: outlines, findings }));
  } else {
    page.print([
      ...wrap(heading(folder, status, findings), page.width).map(page.ink.bold),
      ...(campaign && status === 0 ? ["", ...contents(campaign, outlines, page)] : []),
      ...(findings.length > 0 ? ["", ...findingsByFile(findings, page.width, page.ink)] : []),
    ]);
  }
  return status;
}

function heading(folder: string, status: 0 | 2, findings: readonly Finding[]): string {
  const counts = countInWords(findings);
  if (status === 2) return `✕ ${printable(folder)} has faults of form: ${counts}.`;
  return `● ${printable(folder)} is well formed${counts === "" ? "" : `; ${counts}`}.`;
}

function contents({ descriptor }: Campaign, outlines: readonly SeriesOutline[], { width, ink }: Page): string[] {
  const { detector, beam } = descriptor.alcedo;
  const rows = outlines.map(({ series, file, readings, excluded, conditions }) => [
    series,
    printable(file),
    `${readings}`,
    `${excluded}`,
    conditions.map(({ name, readings: count }) => `${name} ${count}`).join(", "),
  ]);
  const columns = [
    { head: "series" },
    { head: "file", optional: true },
    { head: "readings", align: "right" as const },
    { head: "left out", align: "right" as const },
    { head: "conditions", flexible: true },
  ];
  return [
    ...wrap(printable(`${descriptor.title ?? descriptor.name}: fibre ${detector.id}, beam ${beam.id}`), width),
    "",
    ...layTable(columns, rows, width, ink.dim).lines,
  ];
}

function outlineOf(series: SeriesReadings, kind: (typeof SERIES_KINDS)[number]): SeriesOutline | undefined {
  if (kind === "characterisation") return undefined;
  if (kind === "reference-set" || kind === "output-corrections") {
    const set = series[kind];
    return (
      set && {
        series: kind,
        file: set.sheet === undefined ? set.file : `sheet ${set.sheet}`,
        readings: set.values.length,
        excluded: 0,
        conditions: [],
      }
    );
  }
  const points = series[kind];
  if (!points) return undefined;
  const counts = new Map<string, number>();
  for (const { condition } of points.readings) counts.set(condition, (counts.get(condition) ?? 0) + 1);
  return {
    series: kind,
    file: points.sheet === undefined ? points.file : `sheet ${points.sheet}`,
    readings: points.readings.length,
    excluded: points.excluded.length,
    conditions: [...counts].map(([name, readings]) => ({ name, readings })),
  };
}
