import { lightOf, type PerChannel } from "../fibre.ts";
import type { Laboratory } from "../laboratory.ts";
import type { Shot } from "../shot.ts";
import { alter, fieldSetup, fitCondition, fromTheMiddle, inSeries, pick } from "./among-shots.ts";
import { catalogue, type Mistake, type Spoilt } from "./mistake.ts";

/** Mistakes of the reader, and of how it is used. */
export const IN_THE_READER = catalogue({
  "first-channel-saturated": saturated(0, "first"),
  "second-channel-saturated": saturated(1, "second"),
  "gain-changed": {
    what: "The gain of the first channel changed in the middle of the output factors.",
    size: { meaning: "more gain afterwards, %", usual: 1 },
    spoil: (shots, circumstances) =>
      alter(shots, fromTheMiddle(shots, circumstances), ({ light }) => ({
        light: [light[0] * (1 + circumstances.size / 100), light[1]],
      })),
  },
  "channel-dead": {
    what: "During one field the second channel was unplugged.",
    spoil: (shots, circumstances) => {
      const setup = fieldSetup(shots, circumstances);
      return alter(
        shots,
        (shot) => shot.setup === setup,
        ({ light }) => ({ light: [light[0], 0] }),
      );
    },
  },
  "channels-noisy": {
    what: "During one field the reader was noisier than otherwise.",
    size: { meaning: "times the usual noise of the reader", usual: 20 },
    spoil: (shots, circumstances) => {
      const setup = fieldSetup(shots, circumstances);
      return alter(
        shots,
        (shot) => shot.setup === setup,
        ({ noise }) => ({ noise: noise * circumstances.size }),
      );
    },
  },
  outlier: {
    what: "One reading is off in the first channel.",
    size: { meaning: "more in the first channel, %", usual: 5 },
    spoil: (shots, circumstances) => {
      const { number } = pick(
        shots.filter(({ field }) => field),
        circumstances,
        "readings",
      );
      return alter(
        shots,
        (shot) => shot.number === number,
        ({ light }) => ({
          light: [light[0] * (1 + circumstances.size / 100), light[1]],
        }),
      );
    },
  },
  "warm-up-skipped": {
    what: "The reader was still warming up: its readings rise towards their value over a quarter of an hour.",
    size: { meaning: "less in the first reading, %", usual: 2 },
    spoil: (shots, { size }) => {
      const start = shots.find(({ field }) => field !== undefined)?.time_s ?? 0;
      return alter(
        shots,
        ({ field, time_s }) => field !== undefined && time_s < start + 3600,
        ({ light, time_s }) => {
          // a third of it is left after ten minutes, a thirteenth after half an hour
          const tens = (time_s - start) / 600;
          const factor = 1 - size / 100 / (1 + tens + tens * tens);
          return { light: [light[0] * factor, light[1] * factor] };
        },
      );
    },
  },
  "background-lights-on": {
    what: "The first background was taken with the lights of the room on.",
    size: { meaning: "nC per s more in both channels", usual: 0.002 },
    spoil: (shots, { size }) => alter(shots, firstBackground(shots), () => ({ extraRate_perS: [size, 1.5 * size] })),
  },
  afterglow: {
    what: "The last background was taken right after a large dose, and glows down from reading to reading.",
    size: { meaning: "nC per s more in the first of its readings", usual: 0.001 },
    spoil: (shots, { size }) => {
      const first = firstBackground(shots);
      return alter(
        shots,
        (shot) => shot.series === "background" && !first(shot),
        (_, place) => {
          const rate = size / (1 + place * place);
          return { extraRate_perS: [rate, rate / 2] };
        },
      );
    },
  },
  "already-net": {
    what: "The reader took its background away by itself, and the background table takes it away once more.",
    rebuild: (laboratory) => ({ made: laboratory, places: [{ series: "background" }] }),
    spoil: (shots, { laboratory: { reader } }) =>
      alter(
        shots,
        ({ series }) => series !== "background",
        () => ({ extraRate_perS: [-reader.darkRate_perS[0], -reader.darkRate_perS[1]] }),
      ),
  },
  "single-reading": {
    what: "One field was read once only.",
    spoil: (shots, circumstances) => {
      const setup = fieldSetup(shots, circumstances);
      const [first, ...others] = shots.filter((shot) => shot.setup === setup);
      return {
        made: shots.filter((shot) => !others.includes(shot)),
        places: [{ series: "output-factors", condition: first!.condition }],
      };
    },
  },
});

function firstBackground(shots: readonly Shot[]): (shot: Shot) => boolean {
  const first = shots.find(inSeries("background"));
  if (!first) throw new Error("this mistake needs a background, and the plan has none");
  return ({ setup }) => setup === first.setup;
}

/** Compression from half of the largest fit reading on, as strong as it takes to lose so much of that reading. */
function saturated(channel: 0 | 1, name: string): Mistake {
  return {
    what: `The ${name} channel saturates with much fibre in the beam.`,
    size: { meaning: "less at the fit condition with most fibre, %", usual: 2 },
    rebuild: (laboratory, size) => {
      const most = fitCondition({ laboratory }, "most");
      const largest = expected(laboratory, most.fibre_mm)[channel];
      const level_nC = largest / 2;
      const lost = (largest * size) / 100;
      const above = largest - level_nC;
      if (!(lost > 0 && lost < above))
        throw new RangeError(`a channel saturates by more than 0 and less than 50 %, not ${size} %`);
      // above − above/(1 + above/h) = lost
      const saturation = { level_nC, headroom_nC: (above * (above - lost)) / lost };
      const [first, second] = laboratory.reader.saturation;
      const made: Laboratory = {
        ...laboratory,
        reader: { ...laboratory.reader, saturation: channel === 0 ? [saturation, second] : [first, saturation] },
      };
      return { made, places: [{ series: "separation", condition: most.name }] } satisfies Spoilt<Laboratory>;
    },
  };
}

/** Reading of the reference field with so much fibre in it, in nC. */
function expected({ beam, fibre, reader, physicist }: Laboratory, fibre_mm: number): PerChannel {
  const dose = beam.dosePerMU_Gy * physicist.plan.mu;
  const light = lightOf(fibre, {
    volumeDose_Gy: dose,
    centreDose_Gy: dose,
    fibre_mm,
    angle_deg: 90,
    warmth_K: 0,
    since_Gy: 0,
    stemFactor: [1, 1],
  });
  return [light[0] * reader.gain[0], light[1] * reader.gain[1]];
}
