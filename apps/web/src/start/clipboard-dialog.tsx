import { applyEdits, STAGE_NAMES, type TableSeriesKind } from "@alcedo-dosimetry/campaign";
import { useMemo, useState } from "react";
import { hashOf } from "../app/route.ts";
import { BlockDialog } from "../block/block-dialog.tsx";
import { Button } from "../look/button.tsx";
import { Dialog } from "../look/dialog.tsx";
import { Select } from "../look/select.tsx";
import { TextField } from "../look/text-field.tsx";
import { emptyTable, tableEdits } from "../readings/new-table.ts";
import { ask, errorWords } from "../talk/ask.ts";
import { guessed } from "./guess.ts";
import { CHAIN_SERIES, FIRST_DESCRIPTOR, newCampaign } from "./new-campaign.ts";

/** A campaign out of a spreadsheet's block: which series it is, what the columns are, and the little else that is needed. */
export function ClipboardDialog({ text: given, onClose }: { readonly text: string; readonly onClose: () => void }) {
  const [text, setText] = useState(given);
  const [title, setTitle] = useState("");
  const [fibre, setFibre] = useState("");
  const [beam, setBeam] = useState("");
  const [chosen, setChosen] = useState<TableSeriesKind>();
  const [channelText, setChannelText] = useState<string>();
  const [asked, setAsked] = useState(false);
  const [trouble, setTrouble] = useState<string>();
  const guess = useMemo(() => guessed(text), [text]);
  const series = chosen ?? guess.series;
  const channels = (channelText ?? guess.channels.join(", ")).split(/[\s,;]+/).filter((own) => own !== "");
  const missing = [
    ...(text.trim() === "" ? ["the block"] : []),
    ...(title.trim() === "" ? ["a title"] : []),
    ...(fibre.trim() === "" ? ["the fibre"] : []),
    ...(beam.trim() === "" ? ["the beam"] : []),
    ...(channels.length < 2 ? ["two channels"] : []),
  ];
  const start = async (added: readonly string[], rows: readonly (readonly string[])[]) => {
    const { alcedo, ...rest } = FIRST_DESCRIPTOR;
    const descriptor = {
      ...rest,
      alcedo: {
        ...alcedo,
        detector: { ...alcedo.detector, id: fibre.trim(), channels },
        beam: { ...alcedo.beam, id: beam.trim() },
      },
    };
    const begun = newCampaign(descriptor, title, [], guess.decimal);
    const table = {
      ...emptyTable(series, channels, { decimal: guess.decimal, withBackground: false }),
      ...{ columns: [...added], rows, lines: rows.map((_, k) => k + 2) },
    };
    try {
      const campaign = applyEdits(begun, tableEdits(begun, series, table).edits);
      const kept = await ask("keep", { body: { campaign, why: "begun out of a spreadsheet" } });
      onClose();
      location.hash = hashOf({ page: "campaign", id: kept.id });
    } catch (error) {
      setTrouble(errorWords(error));
      setAsked(false);
    }
  };
  if (asked)
    return (
      <BlockDialog
        title={`${STAGE_NAMES[series as keyof typeof STAGE_NAMES]} of ${title}`}
        series={series}
        channels={channels}
        table={{ columns: [], rows: [], decimal: guess.decimal }}
        withBackground={false}
        text={text}
        onClose={() => setAsked(false)}
        onTake={({ added, rows }) => void start(added, rows)}
      />
    );
  return (
    <Dialog
      title="A campaign out of a spreadsheet"
      isOpen
      wide
      onClose={onClose}
      foot={
        <>
          {missing.length > 0 && <span className="muted small">Still needed: {missing.join(", ")}.</span>}
          <Button onPress={onClose}>Cancel</Button>
          <Button kind="main" isDisabled={missing.length > 0} onPress={() => setAsked(true)}>
            On to the columns
          </Button>
        </>
      }
    >
      <div className="start">
        <TextField
          label="Block from a spreadsheet"
          hint="Copy the readings of one series with their header, and paste them here. The other series are pasted into the campaign afterwards."
          lines={6}
          mono
          value={text}
          onChange={setText}
          autoFocus={given === ""}
        />
        {trouble !== undefined && (
          <p className="field-error" role="alert">
            {trouble}
          </p>
        )}
        <div className="set-up-fields">
          <Select
            label="These are readings of the"
            chosen={series}
            choices={CHAIN_SERIES.map((id) => ({ id, name: STAGE_NAMES[id].toLowerCase() }))}
            onChoose={setChosen}
          />
          <TextField
            label="Channels"
            hint="first the one with more scintillation light"
            value={channelText ?? guess.channels.join(", ")}
            onChange={setChannelText}
          />
          <TextField label="Title" hint="what is measured and where" value={title} onChange={setTitle} />
          <TextField label="Fibre" hint="the name on the fibre" value={fibre} onChange={setFibre} />
          <TextField label="Beam" hint="as the department calls it" value={beam} onChange={setBeam} />
        </div>
      </div>
    </Dialog>
  );
}
