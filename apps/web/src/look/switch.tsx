import type { ReactNode } from "react";
import { SwitchButton, SwitchField } from "react-aria-components";
import "./switch.css";

/** What an affair that is so or not is made of. */
export interface SwitchProps {
  readonly isOn: boolean;
  readonly onSwitch: (on: boolean) => void;
  readonly children: ReactNode;
}

/** Something that is on or off, at once. */
export function Switch({ isOn, onSwitch, children }: SwitchProps) {
  return (
    <SwitchField isSelected={isOn} onChange={onSwitch}>
      <SwitchButton className="switch">
        <span className="switch-track" aria-hidden="true">
          <span className="switch-knob" />
        </span>
        {children}
      </SwitchButton>
    </SwitchField>
  );
}
