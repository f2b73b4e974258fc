import type { Campaign } from "@alcedo-dosimetry/campaign";

/** An invented campaign: a background and a separation that evaluates, with texts that a page and a spreadsheet must not run. */
export function inventedCampaign(name = "invented-fields", fibre = "F-1"): Campaign {
  return {
    descriptor: {
      title: "<script>alert(1)</script>",
      name,
      keywords: ["invented"],
      alcedo: {
        version: 1,
        detector: { id: fibre, channels: ["blue", "green"], signalUnit: "nC" },
        beam: { id: "B-1", modality: "photon", energy_MV: 6 },
      },
      resources: [
        { name: "background", path: "dark.csv", alcedo: { series: "background" } },
        { name: "separation", path: "separation.csv", alcedo: { series: "separation" } },
      ],
    },
    tables: {
      background: {
        ...{ path: "dark.csv", decimal: "." },
        columns: ["reading", "condition", "duration_s", "signal_blue", "signal_green"],
        rows: [
          ["b1", "dark", "60", "0.012", "0.009"],
          ["b2", "dark", "60", "0.013", "0.008"],
        ],
        lines: [2, 3],
      },
      separation: {
        ...{ path: "separation.csv", decimal: "." },
        columns: ["reading", "condition", "duration_s", "dose_group", "role", "signal_blue", "signal_green", "note"],
        rows: [
          ["r1", "little", "20", "a", "fit", "6.501", "3.500", "=HYPERLINK(1)"],
          ["r2", "little", "20", "a", "fit", "6.499", "3.502", "<img src=x onerror=alert(1)>"],
          ["r3", "much", "20", "a", "fit", "16.999", "17.500", "+1"],
          ["r4", "much", "20", "a", "fit", "17.002", "17.498", "@SUM(1)"],
        ],
        lines: [2, 3, 4, 5],
      },
    },
  };
}
