import { characterisationOf, evaluate } from "@alcedo-dosimetry/campaign";
import { describe, expect, it } from "vitest";
import { bothRoutes, disagreements } from "./testing/both-routes.ts";
import { demonstration } from "./testing/demonstration.ts";

/** The demonstration's fields by its own characterisation, as if they had been measured on another day. */
function otherDay(calibration: "stored" | "own") {
  const whole = demonstration();
  const { descriptor } = whole;
  const gone = calibration === "stored" ? ["separation", "calibration"] : ["separation"];
  return {
    descriptor: {
      ...descriptor,
      resources: [
        ...descriptor.resources.filter(({ alcedo }) => !gone.includes(alcedo.series)),
        { name: "known", path: "known.json", alcedo: { series: "characterisation" as const } },
      ],
    },
    tables: Object.fromEntries(
      descriptor.resources
        .filter(({ alcedo }) => !gone.includes(alcedo.series))
        .map(({ name }) => [name, whole.tables[name]!]),
    ),
    characterisation: characterisationOf(whole, evaluate(whole)),
  };
}

describe("both routes by a characterisation of another day", () => {
  it.each(["stored", "own"] as const)("agree in every quantity, the calibration %s", (calibration) => {
    const rows = bothRoutes(otherDay(calibration));
    expect(disagreements(rows)).toEqual([]);
    const ids = rows.map(({ id }) => id);
    expect(ids).toEqual(
      expect.arrayContaining(["separation.stem-ratio", "calibration.coefficient", "output-factor.cone-5"]),
    );
  });
});
