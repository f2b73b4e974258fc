import type { Campaign } from "@alcedo-dosimetry/campaign";

/** An invented campaign of two short tables, with a column that nobody knows and cells as people type them. */
export function sampleCampaign(name = "invented-fields", fibre = "F-1", beam = "B-1"): Campaign {
  return {
    descriptor: {
      title: "Small fields, invented",
      name,
      keywords: ["Invented"],
      alcedo: {
        version: 1,
        detector: { id: fibre, channels: ["blue", "green"], signalUnit: "nC" },
        beam: { id: beam, modality: "photon", energy_MV: 6 },
      },
      resources: [
        { name: "separation", path: "data/separation.csv", alcedo: { series: "separation" } },
        { name: "background", path: "dark.csv", alcedo: { series: "background" } },
      ],
    },
    tables: {
      separation: {
        path: "data/separation.csv",
        decimal: ",",
        columns: [
          "reading",
          "condition",
          "duration_s",
          "dose_group",
          "role",
          "signal_blue",
          "signal_green",
          "operator",
          "note",
        ],
        rows: [
          ["r1", "little", "20", "a", "fit", "6,510", "3,50", "Zoë", ""],
          ["r2", "little", "20", "a", "fit", " 6,49", "3,51", "", "=1+1"],
          ["r3", "much", "20", "a", "fit", "16,97", "17,47", "", "two\nlines"],
          ["r4", "much", "20", "a", "fit", "17,03", "17,53", "", "漢"],
        ],
        lines: [2, 3, 4, 6],
      },
      background: {
        path: "dark.csv",
        decimal: ".",
        columns: ["reading", "condition", "duration_s", "signal_blue", "signal_green"],
        rows: [["b1", "dark", "60", "0.0120", "0.009"]],
        lines: [2],
      },
    },
  };
}
