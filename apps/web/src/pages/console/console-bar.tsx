import { beamInWords, type Campaign, detectorInWords, isInvented } from "@alcedo-dosimetry/campaign";
import { useEffect, useState } from "react";
import type { BookState } from "../../book/book.ts";
import "./console-bar.css";

/** What the head of the console is made of. */
export interface ConsoleBarProps {
  readonly campaign: Campaign;
  readonly state: BookState;
  readonly trouble?: string;
}

/** Which campaign it is, what o'clock, and whether every entry is on disk. */
export function ConsoleBar({ campaign, state, trouble }: ConsoleBarProps) {
  const { descriptor } = campaign;
  return (
    <header className="console-bar">
      <p className="console-campaign">{descriptor.title ?? descriptor.name}</p>
      <p className="muted">
        {beamInWords(descriptor.alcedo.beam)} · {detectorInWords(descriptor.alcedo.detector)}
        {isInvented(descriptor) && <strong className="console-invented"> · invented</strong>}
      </p>
      <p className="console-disk">
        <Clock /> · <OnDisk state={state} />
      </p>
      {(state.trouble ?? state.refused ?? trouble) !== undefined && (
        <p className="console-trouble" role="alert">
          △ {state.refused ?? state.trouble ?? trouble}
        </p>
      )}
    </header>
  );
}

/** Whether the server has everything on its disk; what it has not lies in the journal of this browser. */
function OnDisk({ state: { waiting } }: { readonly state: BookState }) {
  return (
    <span role="status" className={waiting > 0 ? "console-waiting" : undefined}>
      {waiting === 0
        ? "every entry is on disk"
        : `□ ${waiting === 1 ? "1 entry" : `${waiting} entries`} not yet on disk`}
    </span>
  );
}

function Clock() {
  const [now, setNow] = useState(() => new Date());
  useEffect(() => {
    const timer = setInterval(() => setNow(new Date()), 5_000);
    return () => clearInterval(timer);
  }, []);
  const two = (value: number) => `${value}`.padStart(2, "0");
  return <time className="number">{`${two(now.getHours())}:${two(now.getMinutes())}`}</time>;
}
