import { type Campaign, evaluate } from "@alcedo-dosimetry/campaign";

const HARMFUL = [
  '=HYPERLINK("http://example.invalid","x")',
  "@SUM(1)",
  "+1+1",
  "-2+3",
  "<script>alert(1)</script>",
  "\u202eright to left\u202c שלום",
  "m".repeat(3000),
];

/** Texts that could do harm in a spreadsheet or on a page. */
export const HARMFUL_TEXTS: readonly string[] = HARMFUL;

/** An invented campaign of net signals with a reference set; every text of it that may be anything is harmful. */
export function exportedCampaign(): Campaign {
  const table = (name: string, columns: string, rows: readonly (readonly string[])[]) => ({
    path: `${name}.csv`,
    decimal: "." as const,
    columns: columns.split(","),
    rows,
    lines: rows.map((_, i) => i + 2),
  });
  const shot = (i: number, condition: string, blue: number, green: number, ...more: string[]) => [
    `r${i}`,
    condition,
    "100",
    (blue + 0.001 * (i % 3)).toFixed(3),
    (green + 0.001 * ((i + 1) % 3)).toFixed(3),
    i === 2 ? HARMFUL[5]! : "",
    i < HARMFUL.length ? HARMFUL[i]! : "",
    ...more,
  ];
  const each = (conditions: readonly (readonly [string, number, number, ...string[]])[]) =>
    conditions.flatMap(([name, blue, green, ...more], k) =>
      [0, 1, 2, 3].map((i) => shot(4 * k + i, name, blue, green, ...more)),
    );
  const head = "reading,condition,mu,signal_blue,signal_green,exclude,note";
  return {
    descriptor: {
      name: "invented-export",
      title: "=1+1 <b>invented</b>",
      keywords: ["invented"],
      alcedo: {
        version: 1,
        detector: { id: "+F-1", channels: ["blue", "green"], signalUnit: "nC" },
        beam: { id: "@B-1", modality: "photon", energy_MV: 6 },
      },
      resources: ["separation", "calibration", "output-factors", "reference-set"].map((series) => ({
        name: series,
        path: `${series}.csv`,
        alcedo: { series: series as "separation" },
      })),
    },
    tables: {
      separation: table(
        "separation",
        `${head},dose_group,role`,
        each([
          ["little", 6.5, 3.5, "a", "fit"],
          ["much", 17, 17.5, "a", "fit"],
          ["half", 11, 9.5, "a", "verify"],
        ]),
      ),
      calibration: table(
        "calibration",
        `${head},dose_Gy,dose_u_percent`,
        each([["reference", 6.5, 3.5, "1.00", "0.7"]]),
      ),
      "output-factors": table(
        "output-factors",
        `${head},role,shape,x_mm,y_mm,diameter_mm`,
        each([
          ["100x100", 6.5, 3.5, "reference", "rectangle", "100", "100", ""],
          ["cone-15", 3.27, 1.26, "field", "circle", "", "", "15"],
        ]),
      ),
      "reference-set": table("reference-set", "condition,equivalent_square_mm,output_factor,u_percent,source", [
        ["cone-15", "", "0.600", "1", "=plan"],
      ]),
    },
  };
}

/** The same, evaluated. */
export function exportedEvaluation() {
  const campaign = exportedCampaign();
  return { campaign, evaluation: evaluate(campaign) };
}
