import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { type Campaign, type Descriptor, type Evaluation, evaluate, type Table } from "@alcedo-dosimetry/campaign";

const FOLDER = fileURLToPath(new URL("../../../../examples/demonstration/", import.meta.url));

/** A table as it is typed, cell by cell, open to change. */
interface OpenTable {
  readonly columns: readonly string[];
  readonly rows: string[][];
}

/** What may be changed in a copy of the demonstration. */
export interface OpenCampaign {
  readonly descriptor: Descriptor;
  readonly tables: Readonly<Record<string, OpenTable>>;
}

/** The demonstration campaign, changed. The folder reader knows this package no more than this package knows it. */
function demonstration(change: (campaign: OpenCampaign) => void = () => undefined): Campaign {
  const descriptor = JSON.parse(readFileSync(`${FOLDER}datapackage.json`, "utf8")) as Descriptor;
  const files = readdirSync(FOLDER).filter((file) => file.endsWith(".csv"));
  const tables = Object.fromEntries(
    files.map((file) => [file.replace(/\.csv$/, ""), openTable(readFileSync(FOLDER + file, "utf8"))]),
  );
  change({ descriptor, tables });
  return {
    descriptor,
    tables: Object.fromEntries(
      Object.entries(tables).map(([name, { columns, rows }]): [string, Table] => [
        name,
        { path: `${name}.csv`, decimal: ".", columns, rows, lines: rows.map((_, i) => i + 2) },
      ]),
    ),
  };
}

/** The same, evaluated. */
export function evaluated(change?: (campaign: OpenCampaign) => void): [Campaign, Evaluation] {
  const campaign = demonstration(change);
  return [campaign, evaluate(campaign)];
}

function openTable(text: string): OpenTable {
  const [columns, ...rows] = text
    .trimEnd()
    .split(/\r?\n/)
    .map((line) =>
      [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(([, quoted, plain]) =>
        quoted === undefined ? plain! : quoted.replaceAll('""', '"'),
      ),
    );
  return { columns: columns!, rows };
}

/** A campaign in which strings that were made to do harm stand wherever a campaign takes text. */
export const HOSTILE = {
  markup: '</td></tr></table><script>document.title="harm"</script><img src=x onerror="document.title=1">',
  formula: '=HYPERLINK("http://example.invalid","x")',
  hebrew: "הערה: קרינה חזרה (ראה r048) שוב",
  arabic: "نبضة مفقودة، أعيدت القراءة",
  turned: "left \u202Eturned round\u202C end",
  control: "bell\u0007 line one\nline two",
  long: "Teilchenbeschleunigerfeldgrössenfaktormessung".repeat(12),
  unknown: "漢字 and 𝔘",
} as const;

/** The demonstration with {@link HOSTILE} texts in its title, description, identities, notes and reasons. */
export function hostile({ descriptor, tables }: OpenCampaign): void {
  const { detector } = descriptor.alcedo;
  Object.assign(descriptor, {
    title: `${HOSTILE.markup} ${HOSTILE.hebrew}`,
    description: `${HOSTILE.formula} ${HOSTILE.turned} ${HOSTILE.long}`,
  });
  Object.assign(detector, { id: HOSTILE.markup, reader: HOSTILE.arabic, gain: HOSTILE.unknown });
  const { columns, rows } = tables["output-factors"]!;
  const [note, exclude] = [columns.indexOf("note"), columns.indexOf("exclude")];
  Object.values(HOSTILE).forEach((text, i) => {
    rows[6 + i]![note] = text;
  });
  rows[17]![exclude] = HOSTILE.markup;
  rows[18]![exclude] = HOSTILE.long;
}

/** The demonstration with every reading of an output factor four times: 277 readings. */
export function manyReadings({ tables }: OpenCampaign): void {
  const { columns, rows } = tables["output-factors"]!;
  const [id, time] = [columns.indexOf("reading"), columns.indexOf("time")];
  const signals = columns.flatMap((name, c) => (name.startsWith("signal_") ? [c] : []));
  const many = rows.flatMap((row, i) =>
    [0, 1, 2, 3].map((k) => {
      const copy = [...row];
      const n = 4 * i + k;
      copy[id] = `r${String(n + 1).padStart(4, "0")}`;
      const minutes = 51 + n;
      const hour = 20 + Math.floor(minutes / 60);
      copy[time] =
        `2026-03-${hour < 24 ? 12 : 13}T${String(hour % 24).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}:00+01:00`;
      for (const c of signals) copy[c] = (Number(row[c]) * (1 + 1e-4 * (((k * 7 + i * 3) % 5) - 2))).toFixed(4);
      return copy;
    }),
  );
  rows.splice(0, rows.length, ...many);
}
