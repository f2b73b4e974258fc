import type { Finding } from "@alcedo-dosimetry/campaign";
import type { Fibre } from "@alcedo-dosimetry/protocol";
import { useEffect, useRef, useState } from "react";
import { Footer } from "../../app/footer.tsx";
import { Masthead } from "../../app/masthead.tsx";
import { hashOf } from "../../app/route.ts";
import { live, useSession } from "../../app/session.ts";
import { theJournal } from "../../book/open-book.ts";
import { Button } from "../../look/button.tsx";
import { Empty } from "../../look/empty.tsx";
import { FindingNote } from "../../look/finding-note.tsx";
import { ClipboardDialog } from "../../start/clipboard-dialog.tsx";
import { importFile } from "../../start/import-file.ts";
import { StartDialog } from "../../start/start-dialog.tsx";
import { ask, errorWords } from "../../talk/ask.ts";
import { useKeys } from "../keys/use-keys.ts";
import { CampaignList } from "./campaign-list.tsx";
import { FibreCard } from "./fibre-card.tsx";
import "./fibres-page.css";

/** Home: the fibres, what is due, and the campaigns beneath; where a campaign is begun. */
export function FibresPage() {
  const session = useSession();
  const { fibres, trouble } = useFibres();
  const [sheet, setSheet] = useState<"start" | { readonly text: string }>();
  const [fault, setFault] = useState<{ readonly words: string; readonly findings: readonly Finding[] }>();
  const [dropping, setDropping] = useState(false);
  const [taking, setTaking] = useState<string>();
  const [fibre, setFibre] = useState<string>();
  const unsent = useUnsent();
  const picker = useRef<HTMLInputElement>(null);

  const take = async (file: File) => {
    setFault(undefined);
    setTaking(file.name);
    const came = await importFile(file);
    setTaking(undefined);
    if ("id" in came) location.hash = hashOf({ page: "campaign", id: came.id });
    else setFault(came);
  };
  useKeys("Fibres and campaigns", [
    { press: "n", does: "start a campaign", run: () => setSheet("start") },
    { press: "/", does: "search", run: () => document.querySelector<HTMLInputElement>("[data-search] input")?.focus() },
    { press: "Control+v", does: "start a campaign out of a spreadsheet's block" },
  ]);
  useEffect(() => {
    const paste = (event: ClipboardEvent) => {
      if (event.target instanceof HTMLElement && event.target.matches("input, textarea")) return;
      if (document.querySelector("[role=dialog]")) return;
      const file = event.clipboardData?.files[0];
      const text = event.clipboardData?.getData("text/plain") ?? "";
      if (file) void take(file);
      else if (text.trim() !== "") setSheet({ text });
    };
    document.addEventListener("paste", paste);
    return () => document.removeEventListener("paste", paste);
  });

  const isEmpty = fibres?.length === 0;
  return (
    <>
      <Masthead title="Fibres">
        <Button kind="quiet" onPress={() => picker.current?.click()}>
          Open a file
        </Button>
        <Button kind="quiet" onPress={() => setSheet({ text: "" })}>
          From a spreadsheet
        </Button>
        <Button kind="main" onPress={() => setSheet("start")}>
          Start a campaign
        </Button>
      </Masthead>
      <input
        ref={picker}
        type="file"
        accept=".zip,.xlsx"
        hidden
        aria-label="A campaign in a file"
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? [];
          event.currentTarget.value = "";
          if (file) void take(file);
        }}
      />
      <main
        className={`home${dropping ? " home-dropping" : ""}`}
        onDragOver={(event) => {
          event.preventDefault();
          setDropping(true);
        }}
        onDragLeave={(event) => {
          if (event.currentTarget === event.target) setDropping(false);
        }}
        onDrop={(event) => {
          event.preventDefault();
          setDropping(false);
          const [file] = event.dataTransfer.files;
          if (file) void take(file);
        }}
      >
        {dropping && <p className="home-drop">Let go: the campaign in this file is taken in.</p>}
        {taking !== undefined && <p role="status">Taking in {taking} …</p>}
        {fault && (
          <section className="home-fault" role="alert">
            <p>{fault.words}</p>
            {fault.findings.map((finding) => (
              <FindingNote key={`${finding.code} ${finding.message}`} finding={finding} />
            ))}
          </section>
        )}
        {unsent.length > 0 && (
          <p className="home-unsent" role="status">
            This browser holds entries that are not yet on the server's disk:{" "}
            {unsent.map((id) => (
              <a key={id} href={hashOf({ page: "campaign", id })}>
                {id}
              </a>
            ))}
            . Open the campaign, and they are sent.
          </p>
        )}
        {trouble !== undefined && <p role="alert">{trouble}</p>}
        {isEmpty && (
          <Empty title="No campaign yet">
            <p>
              A campaign is everything that is measured for one purpose: background, separation, calibration and output
              factors of one fibre in one beam. Alcedo takes the readings as they were typed and works its way to
              figures that can be signed.
            </p>
            <ul className="home-ways">
              <li>
                <strong>Start a campaign</strong> and type the readings in, here or at the treatment console.
              </li>
              <li>
                <strong>Drop a file</strong> on this page: a zipped campaign folder, or a workbook.
              </li>
              <li>
                <strong>Paste a block</strong> from a spreadsheet, with its header: its columns are recognised.
              </li>
              <li>
                New to it? <a href={hashOf({ page: "learn" })}>Play with the virtual fibre</a> first.
              </li>
            </ul>
            <Button kind="main" onPress={() => setSheet("start")}>
              Start a campaign
            </Button>
          </Empty>
        )}
        {fibres !== undefined && fibres.length > 0 && (
          <section aria-label="Fibres" className="home-fibres">
            {fibres.map((own) => (
              <FibreCard
                key={own.id}
                fibre={own}
                isChosen={own.id === fibre}
                onChoose={() => setFibre(own.id === fibre ? undefined : own.id)}
              />
            ))}
          </section>
        )}
        {!isEmpty && <CampaignList fibre={fibre} onAllFibres={() => setFibre(undefined)} />}
      </main>
      <Footer simulated={session.state === "in" && session.me.simulated === true} />
      {sheet === "start" && <StartDialog onClose={() => setSheet(undefined)} />}
      {typeof sheet === "object" && <ClipboardDialog text={sheet.text} onClose={() => setSheet(undefined)} />}
    </>
  );
}

/** The fibres, anew whenever a campaign changes. */
function useFibres() {
  const [fibres, setFibres] = useState<readonly Fibre[]>();
  const [trouble, setTrouble] = useState<string>();
  useEffect(() => {
    let wanted = true;
    const look = () =>
      void ask("fibres").then(
        (answer) => {
          if (!wanted) return;
          setFibres(answer);
          setTrouble(undefined);
        },
        (error: unknown) => wanted && setTrouble(errorWords(error)),
      );
    look();
    const stops = [live().onEvent(look), live().onConnect(look)];
    return () => {
      wanted = false;
      for (const stop of stops) stop();
    };
  }, []);
  return { fibres, trouble };
}

/** Campaigns with entries that no page of this browser has got through to the server. */
function useUnsent(): readonly string[] {
  const [ids, setIds] = useState<readonly string[]>([]);
  useEffect(() => {
    let wanted = true;
    void theJournal()
      .then((journal) => journal.campaigns())
      .then((found) => wanted && setIds(found));
    return () => {
      wanted = false;
    };
  }, []);
  return ids;
}
