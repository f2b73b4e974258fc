import type { ReactNode } from "react";
import { Slider as AriaSlider, Label, SliderOutput, SliderThumb, SliderTrack } from "react-aria-components";
import "./slider.css";

/** What a quantity that is moved by hand is made of. */
export interface SliderProps {
  readonly label: ReactNode;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  /** The value in words, with its unit. */
  readonly words: string;
  readonly onMove: (value: number) => void;
}

/** A quantity moved by hand, or with the arrow keys. */
export function Slider({ label, value, least, most, step, words, onMove }: SliderProps) {
  const part = (value - least) / (most - least);
  return (
    <AriaSlider className="slider" value={value} minValue={least} maxValue={most} step={step} onChange={onMove}>
      <Label className="field-label">{label}</Label>
      <SliderOutput className="slider-words number">{words}</SliderOutput>
      <SliderTrack className="slider-track">
        <div className="slider-filled" style={{ width: `${100 * part}%` }} />
        <SliderThumb className="slider-thumb" aria-valuetext={words} />
      </SliderTrack>
    </AriaSlider>
  );
}
