import { type Campaign, evaluate } from "@alcedo-dosimetry/campaign";
import { campaignIn } from "./folder-on-disk.ts";
import { interleaved } from "./interleaved.ts";
import type { Row } from "./row.ts";

const COUNT = 1000;

/** The workload's line. */
export const name = `${COUNT} campaigns of about 100 readings, evaluated one after the other on one core`;

/** What cannot be had for less: the same campaigns parsed from JSON. */
export const baseline = "JSON.parse of the campaigns";

/** Runs it. */
export function run(): Row[] {
  const texts = Array.from({ length: COUNT }, (_, i) =>
    JSON.stringify(varied(campaignIn("examples/demonstration"), i)),
  );
  const campaigns = texts.map((text) => JSON.parse(text) as Campaign);
  const [parsed, evaluated] = interleaved(
    {
      [baseline]: () => texts.map((text) => JSON.parse(text) as Campaign),
      "evaluate, all budgets": () => campaigns.map((campaign) => evaluate(campaign).result.quantities.length),
    },
    3,
  );
  const perSecond = Math.round(COUNT / (evaluated!.ms / 1000));
  return [parsed!, { ...evaluated!, note: `${perSecond} a second; aim 500 a second and core` }];
}

/** The campaign with the last digit of each blue reading turned, so that no two are the same. */
function varied(campaign: Campaign, seed: number): Campaign {
  const tables = Object.fromEntries(
    Object.entries(campaign.tables).map(([name, table]) => {
      const blue = table.columns.indexOf("signal_blue");
      const rows = table.rows.map((row, r) =>
        row.map((cell, c) => (c === blue ? `${cell.slice(0, -1)}${(seed * 7 + r * 3) % 10}` : cell)),
      );
      return [name, { ...table, rows }];
    }),
  );
  return { ...campaign, tables };
}
