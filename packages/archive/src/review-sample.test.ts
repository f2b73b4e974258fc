import type { Campaign } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import { mismatches, reviewSampleOf } from "./review-sample.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const seal = "5".repeat(64);

/** The sample campaign with so many readings of the background. */
function long(count: number): Campaign {
  const campaign = sampleCampaign();
  const background = campaign.tables["background"]!;
  const rows = Array.from({ length: count }, (_, i) => [`b${i}`, "dark", "60", `0.${100 + i}`, "0.009"]);
  const lines = rows.map((_, i) => i + 2);
  return { ...campaign, tables: { ...campaign.tables, background: { ...background, rows, lines } } };
}

/** What a careful reviewer types: the kept texts. */
function typed(campaign: Campaign, by = seal) {
  return reviewSampleOf(campaign, by).flatMap(({ table, reading, columns }) =>
    columns.map((column) => {
      const { columns: header, rows } = campaign.tables[table]!;
      const row = rows.find((cells) => cells[header.indexOf("reading")] === reading)!;
      return { table, reading, column, text: row[header.indexOf(column)]! };
    }),
  );
}

test("SIGN-5: a tenth of the readings is drawn, rounded up, at least three, and all of fewer", () => {
  expect(reviewSampleOf(long(96), seal)).toHaveLength(10); // with the separation's four: a hundred
  expect(reviewSampleOf(long(97), seal)).toHaveLength(11);
  expect(reviewSampleOf(sampleCampaign(), seal)).toHaveLength(3);
  const { tables, ...rest } = sampleCampaign();
  expect(reviewSampleOf({ ...rest, tables: { background: tables["background"]! } }, seal)).toHaveLength(1);
});

test("SIGN-5: the seal draws: the same again the same, another others, and none more often than others", () => {
  const campaign = long(46);
  const draw = (by: string) => reviewSampleOf(campaign, by).map(({ table, reading }) => `${table} ${reading}`);
  expect(draw(seal)).toEqual(draw(seal));
  const counts = new Map<string, number>();
  for (let i = 0; i < 2000; i++) {
    for (const name of draw(i.toString(16).padStart(64, "0"))) counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  expect(counts.size).toBe(50);
  // each of 50 is expected 200 times in 2,000 draws of 5; six standard deviations of the binomial are 80
  for (const count of counts.values()) expect(Math.abs(count - 200)).toBeLessThan(80);
});

test("SIGN-5: names and columns are told, and no figures: signals, monitor and temperature, where they are filled in", () => {
  const sample = reviewSampleOf(sampleCampaign(), seal);
  for (const { columns } of sample) expect(columns).toEqual(["signal_blue", "signal_green"]);
  expect(JSON.stringify(sample)).not.toMatch(/\d[.,]\d/);
});

test("SIGN-5: readings without a name of their own, or without figures, are not drawn", () => {
  const campaign = long(3);
  const background = campaign.tables["background"]!;
  const rows = [background.rows[0]!, background.rows[0]!, ["", "dark", "60", "1", "1"], ["b9", "dark", "60", "", ""]];
  const odd = { ...campaign, tables: { background: { ...background, rows, lines: [2, 3, 4, 5] } } };
  expect(reviewSampleOf(odd, seal)).toEqual([]);
});

test("SIGN-6: what is typed again is compared as numbers, with point or comma", () => {
  const campaign = sampleCampaign();
  const entered = typed(campaign);
  expect(mismatches(campaign, seal, entered)).toEqual([]);
  const otherwise = entered.map((cell) => ({ ...cell, text: ` ${cell.text.trim().replace(",", ".")}0` }));
  expect(mismatches(campaign, seal, otherwise)).toEqual([]);
});

test("SIGN-6: another number, no number, and a cell that was not typed are told by their places", () => {
  const campaign = sampleCampaign();
  const entered = typed(campaign);
  const place = ({ table, reading, column }: (typeof entered)[number]) => ({ table, reading, column });
  for (const text of ["6.511", "", "six", "1e999"]) {
    const wrong = entered.map((cell, i) => (i === 1 ? { ...cell, text } : cell));
    expect(mismatches(campaign, seal, wrong)).toEqual([place(entered[1]!)]);
  }
  expect(mismatches(campaign, seal, entered.slice(1))).toEqual([place(entered[0]!)]);
});
