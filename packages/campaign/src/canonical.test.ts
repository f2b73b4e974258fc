import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Campaign } from "./campaign.ts";
import { canonicalText, digest } from "./canonical.ts";
import type { Table } from "./table.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const NAMES = ["background", "separation", "calibration", "output-factors"] as const;
const anyTable = fc.constantFrom(...NAMES);

function withTable(campaign: Campaign, name: string, change: (table: Table) => Partial<Table>): Campaign {
  const table = campaign.tables[name]!;
  return { ...campaign, tables: { ...campaign.tables, [name]: { ...table, ...change(table) } } };
}

function withCell(campaign: Campaign, name: string, row: number, column: number, text: string): Campaign {
  return withTable(campaign, name, ({ rows }) => ({
    rows: rows.map((cells, i) => (i === row ? cells.map((cell, k) => (k === column ? text : cell)) : cells)),
  }));
}

const original = digest(sampleCampaign());

test("the digest names its function and has its length", () => {
  expect(original).toMatch(/^sha256:[0-9a-f]{64}$/);
});

test("the digest is SHA-256 of the canonical text, and the text is JSON in canonical form (RFC 8785)", async () => {
  const text = canonicalText(sampleCampaign());
  // Outside value: the digest of the platform's own cryptography.
  const hash = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text));
  expect(original).toBe(`sha256:${Buffer.from(hash).toString("hex")}`);
  const sorted = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(sorted);
    if (typeof value !== "object" || value === null) return value;
    return Object.fromEntries(
      Object.entries(value)
        .sort(([a], [b]) => (a < b ? -1 : 1))
        .map(([k, v]) => [k, sorted(v)]),
    );
  };
  expect(text).toBe(JSON.stringify(sorted(JSON.parse(text))));
});

describe("the digest does not depend on", () => {
  test("the order of columns", () => {
    fc.assert(
      fc.property(anyTable, fc.infiniteStream(fc.nat()), (name, random) => {
        const campaign = sampleCampaign();
        const order = campaign.tables[name]!.columns.map((_, i) => [random.next().value as number, i] as const);
        order.sort((a, b) => a[0] - b[0]);
        const shuffled = withTable(campaign, name, ({ columns, rows }) => ({
          columns: order.map(([, i]) => columns[i]!),
          rows: rows.map((row) => order.map(([, i]) => row[i]!)),
        }));
        expect(digest(shuffled)).toBe(original);
      }),
      { numRuns: 50 },
    );
  });

  test("the order of keys and of resources", () => {
    const reversed = (value: unknown): unknown => {
      if (Array.isArray(value)) return value.map(reversed);
      if (typeof value !== "object" || value === null) return value;
      return Object.fromEntries(
        Object.entries(value)
          .reverse()
          .map(([key, inner]) => [key, reversed(inner)]),
      );
    };
    const campaign = sampleCampaign();
    const descriptor = reversed(campaign.descriptor) as Campaign["descriptor"];
    descriptor.resources.reverse();
    const tables = Object.fromEntries(Object.entries(campaign.tables).reverse());
    expect(digest({ descriptor, tables })).toBe(original);
  });

  test("the decimal sign", () => {
    const numbers = /^(duration_s|mu|monitor|.*_(mm|Gy|percent|C)|signal_.*|k_volume.*)$/;
    for (const name of NAMES) {
      const comma = withTable(sampleCampaign(), name, ({ columns, rows }) => ({
        decimal: ",",
        rows: rows.map((row) => row.map((cell, i) => (numbers.test(columns[i]!) ? cell.replace(".", ",") : cell))),
      }));
      expect(digest(comma)).toBe(original);
    }
  });

  test("file names, physical lines and how the file is written", () => {
    const campaign = sampleCampaign();
    Object.assign(campaign.descriptor.resources[0]!, {
      path: "data/b.csv",
      dialect: { delimiter: ";" },
      schema: { fields: [{ name: "mu", decimalChar: "," }] },
      encoding: "utf-8",
      format: "csv",
      mediatype: "text/csv",
      bytes: 1,
      hash: "00",
    });
    expect(digest(withTable(campaign, "background", () => ({ path: "data/b.csv", lines: [7, 9] })))).toBe(original);
  });

  test("blank rows, columns without content and blanks around column names", () => {
    const changed = withTable(sampleCampaign(), "calibration", ({ columns, rows, lines }) => ({
      columns: [...columns.map((name) => ` ${name} `), "note", ""],
      rows: [rows[0]!, columns.map(() => " "), rows[1]!].map((row) => [...row, "", ""]),
      lines: [...lines, 5],
    }));
    expect(digest(changed)).toBe(original);
  });

  test("the kind of line break inside a cell", () => {
    const withNote = (text: string) => digest(withCell(sampleCampaign(), "separation", 0, 10, text));
    expect(withNote("a\r\nb")).toBe(withNote("a\nb"));
    expect(withNote("a\rb")).toBe(withNote("a\nb"));
    expect(withNote("a\nb")).not.toBe(withNote("ab"));
  });
});

describe("the digest depends on", () => {
  test("every cell's digits as typed", () => {
    const cell = (text: string) => digest(withCell(sampleCampaign(), "separation", 0, 4, text));
    const texts = ["6.500", "6.50", "6.5", "06.5", "+6.5", "6.5e0", " 6.5", "6.501", "6,5", ""];
    expect(new Set(texts.map(cell)).size).toBe(texts.length);
  });

  test("every cell of every table", () => {
    fc.assert(
      fc.property(anyTable, fc.nat(), fc.nat(), fc.string({ minLength: 1, maxLength: 8 }), (name, r, c, text) => {
        const campaign = sampleCampaign();
        const table = campaign.tables[name]!;
        const [row, column] = [r % table.rows.length, c % table.columns.length];
        const changed = digest(withCell(campaign, name, row, column, text));
        expect(changed === original).toBe(text === table.rows[row]![column]);
      }),
    );
  });

  test("the order of rows", () => {
    const swapped = withTable(sampleCampaign(), "separation", ({ rows }) => ({
      rows: [rows[1]!, rows[0]!, ...rows.slice(2)],
    }));
    expect(digest(swapped)).not.toBe(original);
  });

  test("exclusions and notes", () => {
    expect(digest(withCell(sampleCampaign(), "separation", 0, 9, "spike"))).not.toBe(original);
    expect(digest(withCell(sampleCampaign(), "separation", 0, 10, "spike"))).not.toBe(original);
  });

  test("unknown columns, cell by cell", () => {
    const extra = (text: string) =>
      withTable(sampleCampaign(), "calibration", ({ columns, rows }) => ({
        columns: [...columns, "operator"],
        rows: rows.map((row) => [...row, text]),
      }));
    expect(new Set(["A", "B", "1,5", "1.5"].map((text) => digest(extra(text)))).size).toBe(4);
  });

  test("what the descriptor states, a stated default included", () => {
    const campaign = sampleCampaign();
    delete campaign.descriptor.alcedo.assumptions!.temperature_u_C;
    expect(digest(campaign)).not.toBe(original);
  });

  test("which of two texts stands in a number column, even where one is no number", () => {
    const comma = withTable(sampleCampaign(), "calibration", () => ({ decimal: "," }));
    expect(digest(withCell(comma, "calibration", 0, 4, "6,5"))).not.toBe(
      digest(withCell(comma, "calibration", 0, 4, "6.5")),
    );
  });
});

test("a text that is not well-formed Unicode has no digest", () => {
  expect(() => digest(withCell(sampleCampaign(), "separation", 0, 10, "\ud800"))).toThrow(/surrogate/i);
});
