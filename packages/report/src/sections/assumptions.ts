import {
  ASSUMPTION_DEFAULTS,
  type Assumptions,
  plain,
  resolveAssumptions,
  type Uncertain,
} from "@alcedo-dosimetry/campaign";
import type { Section, TableBlock } from "../document/document.ts";
import type { Material } from "./section-material.ts";

/** Every assumption of the evaluation, and which of them nobody stated. */
export function assumptions(material: Material): Section {
  const { defaulted } = resolveAssumptions(material.campaign.descriptor);
  const count = Object.keys(ASSUMPTION_DEFAULTS).length;
  const text =
    defaulted.length === 0
      ? `All ${count} are stated by the campaign; none is a default.`
      : `${defaulted.length} of ${count} are defaults that the campaign did not state; each marked ○ should be confirmed or replaced.`;
  return { id: "assumptions", title: "Assumptions", blocks: [{ kind: "paragraph", text }, assumptionTable(material)] };
}

/** The assumptions as a table. */
function assumptionTable({ campaign }: Material): TableBlock {
  const { values, defaulted, replaced } = resolveAssumptions(campaign.descriptor);
  const left = new Set(defaulted);
  const names = Object.keys(ASSUMPTION_DEFAULTS) as (keyof Assumptions)[];
  return {
    kind: "table",
    caption: "Assumptions in force",
    columns: [
      { head: "key", kind: "code" },
      { head: "value", kind: "number" },
      { head: "u", kind: "number" },
      { head: "who says", kind: "text" },
    ],
    rows: names.map((name) => {
      const { key, source } = ASSUMPTION_DEFAULTS[name];
      const value: number | Uncertain = values[name];
      const [number, u] = typeof value === "number" ? [value, ""] : [value.value, plain(value.u)];
      return {
        cells: [
          key.replace(/^alcedo\./, ""),
          plain(number),
          u,
          replaced.includes(key)
            ? "not used: a table stands in its place"
            : left.has(key)
              ? [{ text: `○ default: ${source}`, tone: "attention" }]
              : "● stated by the campaign",
        ],
      };
    }),
    legend: "Units stand in the keys; keys with _u_ are standard uncertainties themselves.",
  };
}
