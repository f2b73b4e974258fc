import { ASSUMPTION_DEFAULTS, CAUTIONS, formulaTexts, traceQuantity } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import type { Block, DocumentKind, ReportDocument, Row } from "./document/document.ts";
import { plainText } from "./document/text.ts";
import { reportDocument } from "./report-document.ts";
import type { SignedBy } from "./signed-by.ts";
import { evaluated, type OpenCampaign } from "./testing/demonstration.ts";

const documentOf = (kind: DocumentKind, change?: (campaign: OpenCampaign) => void): ReportDocument => {
  const [campaign, evaluation] = evaluated(change);
  return reportDocument(campaign, evaluation, { kind });
};
const blocksOf = (document: ReportDocument, id: string): readonly Block[] =>
  document.sections.find((section) => section.id === id)!.blocks;
const wordsOf = (block: Block): string => {
  switch (block.kind) {
    case "heading":
    case "paragraph":
      return plainText(block.text);
    case "facts":
      return block.facts.map(([term, value]) => `${term}: ${plainText(value)}`).join("\n");
    case "formula":
      return block.lines.map(plainText).join("\n");
    case "finding":
      return block.parts.map(plainText).join("\n");
    case "table":
      return [plainText(block.caption), ...block.rows.map(rowWords), plainText(block.legend ?? "")].join("\n");
    case "blank":
      return block.label;
    case "signatures":
      return block.roles.join("\n");
    default:
      return "";
  }
};
const rowWords = ({ cells }: Row) =>
  cells.map((cell) => (typeof cell === "object" && "bar" in cell ? "" : plainText(cell))).join(" | ");
const words = (document: ReportDocument, id: string) => blocksOf(document, id).map(wordsOf).join("\n");

describe("the full record", () => {
  const document = documentOf("record");

  test("goes from question and answer to signatures", () => {
    expect(document.sections.map(({ id }) => id)).toEqual([
      "answer",
      "findings",
      "set-up",
      "background",
      "separation",
      "calibration",
      "output-factors",
      "assumptions",
      "readings",
      "cautions",
      "signatures",
    ]);
  });

  test("takes its formulas, and the numbers put in, from the trace", () => {
    const [, evaluation] = evaluated();
    const step = traceQuantity(evaluation, "calibration.coefficient")!;
    const { symbols, numbers } = formulaTexts(step)!;
    const typeset = (text: string) => text.replaceAll("_", "");
    expect(words(document, "calibration")).toContain(
      `ND = ${typeset(symbols)}\n= ${typeset(numbers)}\n= 0.2580(18) Gy/nC`,
    );
  });

  test("accounts for the whole of u² in each budget, small parts summed", () => {
    const budgets = document.sections
      .flatMap(({ blocks }) => blocks)
      .flatMap((block) =>
        block.kind === "table" && plainText(block.caption).startsWith("Uncertainty budget") ? [block] : [],
      );
    expect(budgets.length).toBeGreaterThan(10);
    for (const { rows } of budgets) {
      const sum = rows.reduce((total, { cells }) => {
        const last = cells.at(-1)!;
        return total + (typeof last === "object" && "bar" in last ? last.bar : 0);
      }, 0);
      expect(sum).toBeCloseTo(1, 9);
    }
  });

  test("shows the reading that was left out, with the reason, a place for a name, and its row marked", () => {
    const text = words(document, "readings");
    expect(text).toContain(
      "r048 | output-factors.csv | cone-7.5 | interlock, beam stopped at 148 MU | read again | ____",
    );
    const marked = blocksOf(document, "readings").flatMap((block) =>
      block.kind === "table" ? block.rows.filter(({ tone }) => tone === "left-out") : [],
    );
    expect(marked.map(rowWords).filter((row) => row.startsWith("✕"))).toHaveLength(1);
  });

  test("names who left a reading out where the table says so", () => {
    const signed = documentOf("record", ({ tables }) => {
      const { columns, rows } = tables["output-factors"]!;
      const exclude = columns.indexOf("exclude");
      for (const row of rows) row.push(row[exclude] === "" ? "" : "M. Example");
      (columns as string[]).push("excluded_by");
    });
    expect(words(signed, "readings")).toContain("| read again | M. Example");
  });

  test("loses no cell of any table when columns are parted by condition", () => {
    const [campaign] = evaluated();
    const text = words(document, "readings");
    for (const { rows } of Object.values(campaign.tables)) for (const cell of rows.flat()) expect(text).toContain(cell);
  });

  test("says that all assumptions are stated, and names a default where one is not", () => {
    expect(words(document, "assumptions")).toContain("none is a default");
    const text = words(
      documentOf("record", ({ descriptor }) => {
        delete descriptor.alcedo.assumptions!.positioning_u_mm;
      }),
      "assumptions",
    );
    expect(text).toContain(`1 of ${Object.keys(ASSUMPTION_DEFAULTS).length} are defaults`);
    expect(text).toContain("assumptions.positioning_u_mm | 0.1 |  | ○ default: common practice");
  });

  test("shows each finding with effect and remedy, and leaves room for what was done about it", () => {
    const found = documentOf("record", ({ tables }) => {
      const { columns, rows } = tables["output-factors"]!;
      rows[41]![columns.indexOf("signal_blue")] = "9.9999";
    });
    const findings = blocksOf(found, "findings");
    const serious = findings.filter((block) => block.kind === "finding" && block.level !== "notice");
    expect(serious.length).toBeGreaterThan(0);
    expect(words(found, "findings")).toMatch(/Effect: [\s\S]*Remedy: /);
    expect(findings.filter(({ kind }) => kind === "blank")).toHaveLength(serious.length);
  });

  test("ends in the cautions and two signatures", () => {
    expect(words(document, "cautions")).toContain(CAUTIONS);
    expect(words(document, "signatures")).toContain("did not measure");
  });

  test("prints the signatures that were made, over which evaluation and which seal, and lines for those to come", () => {
    const measured: SignedBy = {
      ...{ meaning: "measured", who: "A. Measurer (am)", when: "2026-03-13T08:00:00+01:00" },
      ...{ evaluation: `sha256:${"ab".repeat(32)}`, head: "cd".repeat(32) },
      ...{ signature: "0123456789abcdef".repeat(8), publicKey: "ef".repeat(32) },
    };
    const returned: SignedBy = {
      ...measured,
      ...{ meaning: "returned", who: "<b>B</b>", reason: "r010 is 4.51 on paper" },
    };
    const signed = (...under: readonly SignedBy[]) =>
      words(reportDocument(...evaluated(), { kind: "record", signed: under }), "signatures");
    const one = signed(measured, returned);
    for (const text of [measured.evaluation, measured.head, measured.publicKey]) expect(one).toContain(text);
    expect(one.replace(/\s/g, "")).toContain(measured.signature);
    expect(one).toContain("r010 is 4.51 on paper");
    expect(one).not.toContain("Measured and evaluated by");
    expect(one).toContain("did not measure"); // nobody has agreed yet
    expect(signed(measured, { ...returned, meaning: "agrees" })).not.toContain("did not measure");
  });
});

describe("the certificate", () => {
  const document = documentOf("certificate");

  test("gives coefficients, covariance, verified range, identity, and limits to be set by the physicist", () => {
    const text = words(document, "characterisation");
    expect(text).toContain("ρ | stem ratio | 0.75004(40)");
    expect(text).toContain("0.2580(18) Gy/nC");
    expect(text).toContain("stem loads up to 6.581(17)");
    expect(text).toMatch(/Covariance\nρ \| /);
    const validity = words(document, "validity");
    expect(validity).toContain("Fibre: F-0317");
    expect(validity).toContain("Reader: not stated");
    expect(validity).toContain("Valid until");
    expect(validity).toContain("stale 365 days after these readings, or after 1000 Gy more");
  });

  test("says so where nothing verified the separation, and where there is nothing to certify", () => {
    const alone = documentOf("certificate", ({ tables }) => {
      const { columns, rows } = tables["separation"]!;
      const role = columns.indexOf("role");
      rows.splice(0, rows.length, ...rows.filter((row) => row[role] === "fit"));
    });
    expect(words(alone, "characterisation")).toContain("none: no condition that was kept aside");
    const broken = documentOf("certificate", ({ tables }) => {
      const { columns, rows } = tables["separation"]!;
      for (const row of rows) row[columns.indexOf("condition")] = "short";
    });
    expect(words(broken, "characterisation")).toContain("There are no coefficients to certify");
  });
});

test("the table for the planning model says what it rests on, and what is missing where there is none", () => {
  const document = documentOf("output-factors");
  expect(document.sections.map(({ id }) => id)).toEqual(["table", "signatures", "background", "cautions"]);
  expect(words(document, "table")).toContain("cone-5 | ⌀ 5 | 5.0×5.1 | 4.5 |");
  const without = documentOf("output-factors", ({ descriptor }) => {
    descriptor.resources = descriptor.resources.filter(({ name }) => name !== "output-factors");
  });
  expect(words(without, "table")).toContain("No output factors: this campaign has no readings of them.");
});

describe("with a table of output corrections", () => {
  const tabled = (volume_averaging: string) => (campaign: OpenCampaign) => {
    campaign.descriptor.resources.push({ name: "k", path: "k.csv", alcedo: { series: "output-corrections" } });
    // invented; a straight line in ln S from 1.03 at 4 mm to one at 110 mm
    const columns = ["equivalent_square_mm", "output_correction", "u_percent", "source", "volume_averaging"];
    const row = (size: string, k: string, u: string) => [size, k, u, "invented", volume_averaging];
    Object.assign(campaign.tables, { k: { columns, rows: [row("4", "1.03", "0.8"), row("110", "1", "0")] } });
  };

  test("the corrections of each field are shown, and only those that are factors of Ω", () => {
    const column = (volume_averaging: string) => {
      const document = documentOf("output-factors", tabled(volume_averaging));
      const table = blocksOf(document, "background").find(
        (block) => block.kind === "table" && plainText(block.caption).startsWith("Corrections and comparison"),
      );
      return table?.kind === "table" ? table.columns.map(({ head }) => plainText(head)) : [];
    };
    expect(column("apart").slice(0, 4)).toEqual(["field", "k_other", "k_vol", "k_pos"]);
    expect(column("included").slice(0, 4)).toEqual(["field", "k_other", "k_pos", "stem load"]);
  });

  test("the record says that the assumption is not used, and lists what stands in its place", () => {
    const document = documentOf("record", tabled("included"));
    expect(words(document, "assumptions")).toContain(
      "assumptions.outputCorrection | 1 | 0.005 | not used: a table stands in its place",
    );
    expect(JSON.stringify(blocksOf(document, "output-factors"))).toContain("output-correction.cone-5");
    expect(words(document, "readings")).toContain("4 | 1.03 | 0.8");
  });
});

test("an evaluation without a model gives a record that says why", () => {
  const document = documentOf("record", ({ tables }) => {
    tables["separation"]!.rows[0]![7] = "much";
  });
  expect(words(document, "findings")).toContain("separation.csv");
  expect(words(document, "answer")).toContain("✕ broken");
});
