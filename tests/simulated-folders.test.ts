/** Simulated campaigns go to a folder and come back as they were, spoilt ones too: the format holds whatever was typed. */
import { evaluate } from "@alcedo-dosimetry/campaign";
import { memoryFolder, readFolder, writeFolder } from "@alcedo-dosimetry/exchange";
import {
  MISTAKES,
  type MistakeKind,
  REGIMES,
  simulate,
  standardLaboratory,
  withMistake,
} from "@alcedo-dosimetry/simulator";
import { expect, test } from "vitest";

const throughFolder = (campaign: Parameters<typeof writeFolder>[0]) => {
  const files = writeFolder(campaign);
  return { files, reading: readFolder(memoryFolder("simulated", files)) };
};

test.each(Object.entries(REGIMES))("%s: a folder gives the same campaign and the same result", (_, laboratory) => {
  const { campaign } = simulate(laboratory(), 12);
  const { files, reading } = throughFolder(campaign);
  expect(reading.findings).toEqual([]);
  expect(reading.campaign!.tables).toEqual(campaign.tables);
  expect(throughFolder(reading.campaign!).files).toEqual(files);
  expect(evaluate(reading.campaign!).result.quantities).toEqual(evaluate(campaign).result.quantities);
});

test.each(Object.keys(MISTAKES) as MistakeKind[])("%s: what was typed wrong is still so in the folder", (kind) => {
  const { campaign } = simulate(withMistake(standardLaboratory(), kind), 12);
  const { reading } = throughFolder(campaign);
  const errors = reading.findings.filter(({ level }) => level === "error").map(({ code }) => code);
  // a coefficient in per cent is outside what a descriptor may hold: such a folder is written, and refused when read
  expect(errors).toEqual(kind === "coefficient-in-percent" ? ["value-range"] : []);
  if (errors.length > 0) return;
  expect(reading.campaign!.tables).toEqual(campaign.tables);
});
