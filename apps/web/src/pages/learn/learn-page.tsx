import { CAUTIONS, percent, plain } from "@alcedo-dosimetry/campaign";
import { type ReactNode, useDeferredValue, useMemo, useState } from "react";
import { Masthead } from "../../app/masthead.tsx";
import { Button } from "../../look/button.tsx";
import { ConciseNumber } from "../../look/concise-number.tsx";
import { useDecimal } from "../../look/decimal.tsx";
import { Drawing } from "../../look/drawing.tsx";
import { FindingNote } from "../../look/finding-note.tsx";
import { Select } from "../../look/select.tsx";
import { Slider } from "../../look/slider.tsx";
import { StandingMark } from "../../look/standing-mark.tsx";
import { useKeys } from "../keys/use-keys.ts";
import { CHAPTERS, type Chapter } from "./chapters.tsx";
import { LightBars } from "./light-bars.tsx";
import { type Outcome, outcomeOf } from "./outcome.ts";
import { type Play, REACH, SLIPS, type Slip } from "./play.ts";
import { WaysTable } from "./ways-table.tsx";
import "./learn-page.css";

const SLIP_WORDS: Readonly<Record<Slip, string>> = {
  none: "nothing",
  "dose-unequal": "unequal dose with much fibre",
  "fibre-angle-changed": "the fibre kept aside lies at another angle",
  "channels-swapped": "the channels are swapped",
};

/** A virtual fibre to be played with: why the method works, and when it fails. */
export function LearnPage() {
  const [chapter, setChapter] = useState(0);
  const [play, setPlay] = useState<Play>(CHAPTERS[0]!.begin);
  // what is moved follows the hand at once; what is computed from it follows as fast as it can
  const deferred = useDeferredValue(play);
  const outcome = useMemo(() => outcomeOf(deferred), [deferred]);
  const move = (change: Partial<Play>) => setPlay((now) => ({ ...now, ...change }));
  const open = (k: number) => {
    setChapter(k);
    setPlay(CHAPTERS[k]!.begin);
  };
  useKeys("Learn", [
    ...CHAPTERS.map(({ title }, k) => ({ press: `${k + 1}`, does: title, run: () => open(k) })),
    { press: "r", does: "read everything again, with other noise", run: () => move({ seed: play.seed + 1 }) },
    { press: "0", does: "start over", run: () => open(chapter) },
    { press: "ArrowLeft ArrowRight", does: "move what is in focus" },
  ]);
  const shown = CHAPTERS[chapter]!;
  return (
    <>
      <Masthead title="Why two colours of light give a dose" />
      <main className="learn">
        <p className="learn-simulated">
          <strong>Simulated.</strong> A virtual fibre in a virtual beam, measured and evaluated as a campaign is.
          Nothing here was measured; nothing here is kept.
        </p>
        <nav className="learn-chapters" aria-label="Chapters">
          <ol>
            {CHAPTERS.map(({ id, title }, k) => (
              <li key={id}>
                <button
                  type="button"
                  className="learn-chapter"
                  aria-current={k === chapter ? "step" : undefined}
                  onClick={() => open(k)}
                >
                  <span className="number">{k + 1}</span> {title}
                </button>
              </li>
            ))}
          </ol>
        </nav>
        <div className="learn-left">
          <section className="learn-text" aria-labelledby="learn-chapter">
            <h2 id="learn-chapter">{shown.title}</h2>
            {shown.text}
            <p className="learn-look">{shown.look}</p>
            <fieldset className="learn-tries">
              <legend className="unseen">Try</legend>
              {shown.tries.map(({ words, play: change }) => (
                <Button key={words} onPress={() => move(change)}>
                  {words}
                </Button>
              ))}
            </fieldset>
          </section>
          <Controls play={play} onMove={move} />
        </div>
        <Board outcome={outcome} first={shown.first} isBehind={deferred !== play} />
        <footer className="muted small learn-foot">{CAUTIONS}</footer>
      </main>
    </>
  );
}

function Controls({ play, onMove }: { readonly play: Play; readonly onMove: (change: Partial<Play>) => void }) {
  const decimal = useDecimal();
  const slider = (key: keyof typeof REACH, label: string, unit: string) => (
    <Slider
      label={label}
      value={play[key]}
      {...REACH[key]}
      words={decimal(`${plain(play[key])} ${unit}`)}
      onMove={(value) => onMove({ [key]: value })}
    />
  );
  return (
    <section className="sheet learn-controls" aria-label="The virtual fibre">
      {slider("fibre_mm", "Fibre in the beam, moved by you", "mm")}
      {slider("much_mm", "Fibre in the beam, much", "mm")}
      {slider("side_mm", "Side of your field", "mm")}
      {slider("dose_Gy", "Dose to the fibre since it was new", "Gy")}
      <Select
        label="What goes wrong"
        choices={SLIPS.map((id) => ({ id, name: SLIP_WORDS[id] }))}
        chosen={play.slip}
        onChoose={(slip) => onMove({ slip })}
      />
      <Button onPress={() => onMove({ seed: play.seed + 1 })}>Read it all again</Button>
    </section>
  );
}

interface BoardProps {
  readonly outcome: Outcome;
  readonly first: Chapter["first"];
  readonly isBehind: boolean;
}

/** Everything that is seen of the virtual fibre, what the chapter is about before the rest. */
function Board({ outcome, first, isBehind }: BoardProps) {
  const { plane, geometry, lights, findings, standing, stemRatio, coefficient, whenNew } = outcome;
  const parts: Readonly<Record<Chapter["first"], ReactNode>> = {
    ways: (
      <section key="ways" className="sheet" aria-label="Output factor">
        <WaysTable outcome={outcome} />
        <dl className="learn-figures">
          <Then name="stem ratio ρ" now={stemRatio} then={whenNew.stemRatio} />
          <Then name="dose per corrected light" now={coefficient} then={whenNew.coefficient} />
        </dl>
      </section>
    ),
    lights: (
      <section key="lights" className="sheet" aria-label="Light in the two channels">
        <h2>Light in the two channels</h2>
        <p className="muted small">
          nC in a reading. Full: from the tip. Pale: from the stem. Only a simulation can tell.
        </p>
        <LightBars lights={lights} channels={["blue", "green"]} />
      </section>
    ),
    plane: (
      <section key="plane" className="learn-figure" aria-label="Separation plane">
        {plane ? <Drawing figure={plane} /> : <p>The separation gives no line.</p>}
      </section>
    ),
    findings: (
      <section key="findings" className="learn-findings" aria-label="What the program notices" aria-live="polite">
        <h2>
          What the program notices <StandingMark standing={standing} />
        </h2>
        {findings.length === 0 ? (
          <p className="muted">Nothing: the arrangement that was kept aside lies on the line.</p>
        ) : (
          findings.slice(0, 4).map((finding) => <FindingNote key={finding.message} finding={finding} />)
        )}
      </section>
    ),
  };
  const { [first]: about, ...others } = parts;
  return (
    <div className={isBehind ? "learn-board learn-behind" : "learn-board"}>
      {about}
      {Object.values(others)}
      <section className="learn-figure" aria-label="Geometry">
        <Drawing figure={geometry} />
      </section>
    </div>
  );
}

function Then({
  name,
  now,
  then,
}: {
  readonly name: string;
  readonly now: Outcome["stemRatio"];
  readonly then: NonNullable<Outcome["stemRatio"]>;
}) {
  const decimal = useDecimal();
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        {now ? <ConciseNumber value={now.value} u={now.u} unit={now.unit} /> : "no result"}
        <span className="muted small">
          {" "}
          when new {decimal(plain(then.value, 4))}
          {now && now.value !== then.value && `, ${decimal(percent(now.value / then.value - 1, true))} since`}
        </span>
      </dd>
    </div>
  );
}
