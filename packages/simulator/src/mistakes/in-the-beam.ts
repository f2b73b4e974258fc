import { widened } from "../aperture.ts";
import type { Laboratory } from "../laboratory.ts";
import { alter, fieldSetup, fitCondition, fromTheMiddle, inArrangement, inSeries, pick } from "./among-shots.ts";
import { catalogue } from "./mistake.ts";

/** Mistakes of the beam, of the field and of the monitor. */
export const IN_THE_BEAM = catalogue({
  "dose-unequal": {
    what: "The fit condition with most fibre got another dose than the others of its group.",
    size: { meaning: "more dose, %", usual: 1 },
    spoil: (shots, circumstances) =>
      alter(shots, inArrangement(fitCondition(circumstances, "most")), ({ dose }) => ({
        dose: dose * (1 + circumstances.size / 100),
      })),
  },
  "verification-dose-unequal": {
    what: "A condition that was kept aside got another dose than its group.",
    size: { meaning: "more dose, %", usual: 2 },
    spoil: (shots, circumstances) => {
      const aside = circumstances.laboratory.physicist.plan.separation.filter(({ role }) => role === "verify");
      const chosen = pick(aside, circumstances, "a verification");
      return alter(shots, inArrangement(chosen), ({ dose }) => ({ dose: dose * (1 + circumstances.size / 100) }));
    },
  },
  "output-drifts-within-condition": {
    what: "The output crept up while the readings of one field were taken. Where a monitor is read, it follows.",
    size: { meaning: "more output at the last reading than at the first, %", usual: 2 },
    spoil: (shots, circumstances) => {
      const setup = fieldSetup(shots, circumstances);
      const last = Math.max(1, shots.filter((shot) => shot.setup === setup).length - 1);
      return alter(
        shots,
        (shot) => shot.setup === setup,
        ({ output }, place) => ({
          output: output * (1 + (circumstances.size / 100) * (place / last)),
        }),
      );
    },
  },
  "output-stepped": {
    what: "The output jumped in the middle of the output factors, as after an interlock. Where a monitor is read, it follows.",
    size: { meaning: "more output afterwards, %", usual: 1 },
    spoil: (shots, circumstances) =>
      alter(shots, fromTheMiddle(shots, circumstances), ({ output }) => ({
        output: output * (1 + circumstances.size / 100),
      })),
  },
  "beam-stopped-early": {
    what: "The beam stopped before one reading was done, and the monitor units written down are those that were set.",
    size: { meaning: "missing, % of what was set", usual: 26 },
    spoil: (shots, circumstances) => {
      const { number } = pick(shots.filter(inSeries("output-factors")), circumstances, "output factors");
      return alter(
        shots,
        (shot) => shot.number === number,
        ({ output }) => ({
          output: output * (1 - circumstances.size / 100),
        }),
      );
    },
  },
  "field-set-wrong": {
    what: "One of the fields was set to another size than was written down and scanned.",
    size: { meaning: "wider along each axis, mm", usual: 1 },
    spoil: (shots, circumstances) => {
      const setup = fieldSetup(shots, circumstances);
      return alter(
        shots,
        (shot) => shot.setup === setup,
        ({ field }) => ({
          field: { ...field!, aperture: widened(field!.aperture, circumstances.size) },
        }),
      );
    },
  },
  "detector-off-centre": {
    what: "In the smallest field the detector stood beside the centre.",
    size: { meaning: "off along x, mm", usual: 1 },
    spoil: (shots, circumstances) => {
      const { fields } = circumstances.laboratory.physicist.plan.outputFactors;
      const width = ({ aperture }: (typeof fields)[number]) =>
        aperture.shape === "circle" ? aperture.diameter_mm : aperture.x_mm;
      const smallest = fields.reduce((a, b) => (width(b) < width(a) ? b : a));
      return alter(
        shots,
        ({ series, condition }) => series === "output-factors" && condition === smallest.name,
        () => ({ displaced_mm: [circumstances.size, 0] }),
      );
    },
  },
  "monitor-sees-field": {
    what: "The monitor stands in the field, or close by, and reads less under small ones.",
    size: { meaning: "less in the smallest fields, %", usual: 2 },
    rebuild: (laboratory, size) => ({
      made: { ...laboratory, monitor: { ...monitorOf(laboratory), shading: size / 100 } },
      places: [{ series: "output-factors", column: "monitor" }],
    }),
  },
  "monitor-range-changed": {
    what: "The monitor's range or place changed in the middle of the output factors.",
    size: { meaning: "more reading afterwards, %", usual: 3 },
    spoil: (shots, circumstances) => {
      monitorOf(circumstances.laboratory);
      return alter(shots, fromTheMiddle(shots, circumstances), ({ monitor }) => ({
        monitor: monitor * (1 + circumstances.size / 100),
      }));
    },
  },
});

function monitorOf({ monitor }: Laboratory) {
  if (!monitor) throw new Error("this mistake needs a monitor, and the laboratory has none");
  return monitor;
}
