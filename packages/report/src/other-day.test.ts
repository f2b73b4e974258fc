import { type Campaign, characterisationOf, evaluate } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import type { DocumentKind } from "./document/document.ts";
import { figuresOf } from "./figures/index.ts";
import { reportDocument } from "./report-document.ts";
import { evaluated } from "./testing/demonstration.ts";

/** The demonstration's fields by its own characterisation, as if they had been measured on another day. */
function otherDay(): Campaign {
  const [campaign, evaluation] = evaluated();
  const gone = ["separation", "calibration"];
  const { descriptor, tables } = campaign;
  return {
    descriptor: {
      ...descriptor,
      resources: [
        ...descriptor.resources.filter(({ name }) => !gone.includes(name)),
        { name: "known", path: "known.json", alcedo: { series: "characterisation" } },
      ],
    },
    tables: Object.fromEntries(Object.entries(tables).filter(([name]) => !gone.includes(name))),
    characterisation: characterisationOf(campaign, evaluation),
  };
}

const kinds: readonly DocumentKind[] = ["record", "output-factors", "certificate"];

test.each(kinds)("the %s of a campaign by a characterisation from another day can be written", (kind) => {
  const campaign = otherDay();
  const { sections } = reportDocument(campaign, evaluate(campaign), { kind });
  const text = JSON.stringify(sections);
  expect(text).not.toMatch(/undefined|NaN/);
  expect(text).toContain(kind === "output-factors" ? "cone-5" : "characterisation of 2026-03-12");
});

test("its figures are those that need no separation of its own", () => {
  const campaign = otherDay();
  const ids = figuresOf(campaign, evaluate(campaign)).map(({ id }) => id);
  expect(ids).toEqual(expect.arrayContaining(["stem-load", "output-factors", "readings.output-factors.cone-5"]));
  expect(ids).not.toContain("separation");
});
