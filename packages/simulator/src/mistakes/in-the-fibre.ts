import type { PerChannel } from "../fibre.ts";
import { alter, fieldSetup, fitCondition, fromTheMiddle, inArrangement, pick } from "./among-shots.ts";
import { catalogue } from "./mistake.ts";

const timesFirst = ([first, second]: PerChannel, factor: number): PerChannel => [first * factor, second];
const timesBoth = ([first, second]: PerChannel, factor: number): PerChannel => [first * factor, second * factor];

/** Mistakes of the fibre, and what becomes of it. */
export const IN_THE_FIBRE = catalogue({
  "scintillator-moved": {
    what: "Laying the loop with most fibre, the scintillator slipped to another depth.",
    size: { meaning: "deeper, mm", usual: 3 },
    spoil: (shots, circumstances) => {
      const { depthGradient_perMm } = circumstances.laboratory.beam;
      return alter(shots, inArrangement(fitCondition(circumstances, "most")), ({ dose }) => ({
        dose: dose * (1 + depthGradient_perMm * circumstances.size),
      }));
    },
  },
  "fibre-bent": {
    what: "The loop with most fibre was bent too tightly: the first channel lost light.",
    size: { meaning: "less light in the first channel, %", usual: 2 },
    spoil: (shots, circumstances) =>
      alter(shots, inArrangement(fitCondition(circumstances, "most")), ({ light }) => ({
        light: timesFirst(light, 1 - circumstances.size / 100),
      })),
  },
  "fibre-angle-changed": {
    what: "A condition that was kept aside met the beam at another angle, where the stem light has another colour.",
    size: { meaning: "stem ratio larger there, %", usual: 3 },
    spoil: (shots, circumstances) => {
      const aside = circumstances.laboratory.physicist.plan.separation.filter(({ role }) => role === "verify");
      const chosen = pick(aside, circumstances, "a verification");
      return alter(shots, inArrangement(chosen), ({ stem }) => ({
        angle_deg: 45,
        stem: timesFirst(stem, 1 + circumstances.size / 100),
      }));
    },
  },
  "other-energy": {
    what: "The separation was measured at another beam energy than the rest.",
    size: { meaning: "stem ratio larger there, %", usual: 1 },
    spoil: (shots, { size }) =>
      alter(
        shots,
        ({ series }) => series === "separation",
        ({ stem }) => ({ stem: timesFirst(stem, 1 + size / 100) }),
      ),
  },
  "aged-between-days": {
    what: "Between separation and calibration lie weeks and many grays: the first channel lost light, of both kinds.",
    size: { meaning: "less light in the first channel, %", usual: 2 },
    spoil: (shots, { size }) =>
      alter(
        shots,
        ({ series }) => series === "calibration" || series === "output-factors",
        ({ light }) => ({ light: timesFirst(light, 1 - size / 100) }),
      ),
  },
  "connector-loosened": {
    what: "In the middle of the output factors a connector came loose: both channels lost light.",
    size: { meaning: "less light in both channels, %", usual: 1 },
    spoil: (shots, circumstances) =>
      alter(shots, fromTheMiddle(shots, circumstances), ({ light }) => ({
        light: timesBoth(light, 1 - circumstances.size / 100),
      })),
  },
  "room-light-in-condition": {
    what: "The field light stayed on during one condition and leaked into the fibre.",
    size: { meaning: "nC per s more in both channels", usual: 0.003 },
    spoil: (shots, circumstances) => {
      const setup = fieldSetup(shots, circumstances);
      return alter(
        shots,
        (shot) => shot.setup === setup,
        () => ({
          extraRate_perS: [circumstances.size, circumstances.size],
        }),
      );
    },
  },
});
