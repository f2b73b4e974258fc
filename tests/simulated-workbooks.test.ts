/** Simulated campaigns go to a workbook and come back as they were, spoilt ones too. */
import { digest } from "@alcedo-dosimetry/campaign";
import { readCampaignWorkbook, writeCampaignWorkbook } from "@alcedo-dosimetry/exchange/workbook";
import {
  MISTAKES,
  type MistakeKind,
  REGIMES,
  simulate,
  standardLaboratory,
  withMistake,
} from "@alcedo-dosimetry/simulator";
import { expect, test } from "vitest";

test.each(Object.entries(REGIMES))("%s: a workbook gives the same campaign, to the digest", (_, laboratory) => {
  const { campaign } = simulate(laboratory(), 12);
  const bytes = writeCampaignWorkbook(campaign);
  const { campaign: again, findings } = readCampaignWorkbook(bytes, "simulated.xlsx");
  expect(findings).toEqual([]);
  expect(digest(again!)).toBe(digest(campaign));
  for (const [name, { rows, columns }] of Object.entries(campaign.tables))
    expect(again!.tables[name]).toMatchObject({ rows, columns });
  expect(writeCampaignWorkbook(again!)).toEqual(bytes);
});

test.each(Object.keys(MISTAKES) as MistakeKind[])("%s: what was typed wrong is still so in the workbook", (kind) => {
  const { campaign } = simulate(withMistake(standardLaboratory(), kind), 12);
  // a coefficient in per cent is outside what a descriptor may hold: no workbook of it could be read
  if (kind === "coefficient-in-percent") {
    expect(() => writeCampaignWorkbook(campaign)).toThrow("temperatureCoefficient_perK");
    return;
  }
  const { campaign: again } = readCampaignWorkbook(writeCampaignWorkbook(campaign), "simulated.xlsx");
  expect(digest(again!)).toBe(digest(campaign));
});
