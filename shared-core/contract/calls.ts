import type { ReadingEntered, Repaired } from '../safety/events.ts';
import type { BuildEvent } from '../journal/build-event.ts';
import type { RecordKit, RecordPhoto, RecordQuestion } from '../journal/build-record.ts';
import type { KitDifference } from '../journal/kit-difference.ts';
import type { BuildState } from '../journal/build-state.ts';
import type { Explanation } from '../faults/explain.ts';
import type { FitReport } from '../faults/fit-report.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Choices, Kit } from '../kit/kit.ts';
import type { AdjusterCurve } from '../prediction/adjuster-curve.ts';
import type { ConditionPrediction, ReadingPrediction } from '../prediction/prediction.ts';
import type { KitProblem, Problems, Result } from '../problem/problem.ts';
import type { PaperPage } from '../report/paper-page.ts';
import type { EnergyState, StartedFrom } from '../safety/energy-state.ts';
import type { SafetyFacts } from '../safety/facts.ts';
import type { TakenFrom } from '../safety/instrument.ts';
import type { Refusal } from '../safety/refusal.ts';
import type { Means, Stamp } from '../safety/stamp.ts';
import type { BuildJudgement } from '../bands/judge-build.ts';
import type { Together } from '../bands/see-together.ts';
import type { Verdict } from '../bands/verdict.ts';
import type { FoundInstrument, InstrumentAddress, SerialPortName } from './instrument.ts';
import type { Settings } from './settings.ts';

/**
 * Every call a screen can make: name → arguments → result.
 *
 * The window, the browser and the tests all speak this map; a call missing on one side fails to
 * compile. Everything is plain JSON.
 */
export interface Calls {
  readonly 'app.hello': Call<Record<string, never>, Hello>;
  readonly 'kit.open': Call<{ readonly path: string }, Result<OpenedKit>>;
  readonly 'build.start': Call<
    { readonly path: string; readonly choices: Choices; readonly startedFrom: StartedFrom },
    Result<BuildView>
  >;
  readonly 'build.open': Call<{ readonly build: string }, Result<BuildView>>;
  readonly 'build.act': Call<
    { readonly build: string; readonly expectedSeq: number; readonly action: BuilderAction },
    ActOutcome
  >;
  readonly 'predict.condition': Call<
    { readonly build: string; readonly condition: string },
    Result<Expectation>
  >;
  /** All readings of a build seen together: advice beside the verdicts, which blocks nothing. */
  readonly 'predict.together': Call<{ readonly build: string }, Result<Together>>;
  /** What may explain the readings of a build; asked again while it is under way. Advice, which blocks nothing. */
  readonly 'explain.readings': Call<
    {
      readonly build: string;
      /** Measurements and actions that the builder cannot do: another one is offered. */
      readonly without: readonly string[];
    },
    Result<ExplainAnswer>
  >;
  /** What a reading shows at each position of its adjuster; null where no step of the kit sets one by it. */
  readonly 'predict.adjuster': Call<
    { readonly build: string; readonly reading: string },
    Result<AdjusterCurve | null>
  >;
  /** The serial ports of the machine that the host runs on. */
  readonly 'instrument.ports': Call<Record<string, never>, Result<readonly SerialPortName[]>>;
  /** Who answers at an address. */
  readonly 'instrument.find': Call<{ readonly address: InstrumentAddress }, Result<FoundInstrument>>;
  /** What a recorded instrument shows for a reading: to be looked at, and entered by hand or not at all. */
  readonly 'instrument.look': Call<
    { readonly build: string; readonly reading: string; readonly identity: string },
    InstrumentOutcome
  >;
  /** What becomes of a kit or a build with other valves in some sockets: asked, not done. */
  readonly 'fit.valves': Call<
    { readonly subject: FitSubject; readonly valves: Readonly<Record<string, string>> },
    Result<FitReport>
  >;
  /** Keeps a photo with the build. It is stripped of everything but the picture first. */
  readonly 'photo.add': Call<
    { readonly build: string; readonly expectedSeq: number; readonly photo: NewPhoto; readonly by: Means },
    ActOutcome
  >;
  /** The pages of something that can be printed, as the PDF has them. */
  readonly 'paper.pages': Call<{ readonly paper: Paper }, Result<readonly PaperPage[]>>;
  /** Begins a practice power-up on an invented amplifier: in a folder and a format of its own, never a build. */
  readonly 'practice.start': Call<{ readonly path: string; readonly choices: Choices }, Result<BuildView>>;
  /** Skips a wait, in seconds (s): of practice only. */
  readonly 'practice.skip': Call<{ readonly build: string; readonly seconds: number }, Result<BuildView>>;
  /** What the meter shows in the invented amplifier, as it is typed. */
  readonly 'practice.meter': Call<{ readonly build: string; readonly at: PracticePlace }, Result<string>>;
  /** Begins the service of an amplifier from its old record: draining, its readings to be compared with. */
  readonly 'service.start': Call<{ readonly text: string }, Result<BuildView>>;
  readonly 'record.open': Call<{ readonly text: string }, Result<RecordView>>;
  readonly 'settings.get': Call<Record<string, never>, Settings>;
  readonly 'settings.set': Call<{ readonly settings: Partial<Settings> }, Settings>;
}

interface Call<Arguments, Answer> {
  readonly arguments: Arguments;
  readonly result: Answer;
}

export type CallName = keyof Calls;
export type PracticeCallName = Extract<CallName, `practice.${string}`>;
export type Arguments<Name extends CallName> = Calls[Name]['arguments'];
export type Answer<Name extends CallName> = Calls[Name]['result'];

/** How far the explaining has come. */
export type ExplainAnswer =
  /** There is no reading to explain. */
  | { readonly kind: 'nothing' }
  | { readonly kind: 'under way'; readonly done: number; readonly of: number }
  | { readonly kind: 'ready'; readonly explanation: Explanation };

/** Where the meter of practice is held: a reading's place, or across a store. */
export interface PracticePlace {
  readonly kind: 'reading' | 'store';
  readonly id: string;
}

/** What a valve is to be fitted in: a kit as its file says, or a build with its bench and valves. */
export type FitSubject =
  | { readonly kind: 'kit'; readonly path: string; readonly choices: Choices }
  | { readonly kind: 'build'; readonly build: string };

/** Raw bytes the screen can fetch, at most 10 MB each. */
export interface Blobs {
  /** The PDF build report of a build. */
  readonly report: { readonly build: string } & PaperChoice;
  /** The record file of a build, with the photos chosen; with a question it is for the maker. */
  readonly record: Pick<PaperChoice, 'photos'> & {
    readonly build: string;
    readonly question?: RecordQuestion | undefined;
  };
  /** The bench card of a build: one PDF page. */
  readonly 'bench-card': { readonly build: string };
  /** A photo of a build, by the file that its event names. */
  readonly photo: { readonly build: string; readonly file: string };
  /** A picture of the build's kit, by its path inside the kit folder. */
  readonly picture: { readonly build: string; readonly path: string };
  /** The PDF build report of a record file's text. */
  readonly 'record-report': { readonly text: string };
}
export type BlobName = keyof Blobs;

/** Which notes and photos of a build go into its papers. */
export interface PaperChoice {
  /** Places in the build's list of notes; left out: all of them. */
  readonly notes?: readonly number[] | undefined;
  /** Files of photos; left out: none of them. */
  readonly photos?: readonly string[] | undefined;
}

/** Something that can be printed. */
export type Paper =
  | ({ readonly kind: 'report'; readonly build: string } & PaperChoice)
  | { readonly kind: 'bench-card'; readonly build: string }
  /** The report of a record file's text. */
  | { readonly kind: 'record-report'; readonly text: string };

/** A photo on its way to the host. */
export interface NewPhoto {
  /** The step or reading it belongs to; null for the build as a whole. */
  readonly about: string | null;
  readonly caption: string;
  /** The file, as base64. */
  readonly base64: string;
}

/** A blob with its type and the name to save it under. */
export interface BlobFile {
  readonly bytes: Uint8Array;
  readonly type: string;
  readonly name: string;
}

/** What the host tells every screen, unasked. */
export type HostEvent =
  /** Every 0.5 s: a screen that hears nothing for 2 s says "State unknown: treat as live". */
  | { readonly kind: 'heartbeat'; readonly run: string; readonly tick: number; readonly at: string }
  /** A build has new entries, or lapsed although nothing could be written: fetch it again. */
  | {
      readonly kind: 'build-changed';
      readonly build: string;
      readonly seq: number;
      readonly lapsed?: true;
    }
  /** A prediction is being computed, 0 to 1. */
  | { readonly kind: 'job'; readonly build: string; readonly condition: string; readonly progress: number };

/** The first screen. */
export interface Hello {
  readonly version: string;
  readonly face: 'window' | 'browser';
  readonly kits: readonly ShelfKit[];
  readonly builds: readonly BuildSummary[];
  /** A kit that this start of the app was asked to open, by its path; null otherwise. */
  readonly openPath?: string | null;
}

export interface ShelfKit {
  readonly path: string;
  readonly id: string;
  readonly name: string;
  readonly revision: string;
  readonly maker: string;
  readonly about: string;
  /** Why the kit cannot be opened; null when it can. */
  readonly problem?: string | null;
}

export interface BuildSummary {
  readonly build: string;
  readonly kitName: string;
  readonly revision: string;
  readonly energy: EnergyState['kind'] | 'unknown';
  readonly startedAt: string | null;
  readonly lastAt: string | null;
  readonly signed: boolean;
  /** Why the build cannot be opened; null when it can. */
  readonly problem: string | null;
}

export interface OpenedKit {
  readonly path: string;
  readonly hash: string;
  readonly kit: Kit;
}

/** A build as a screen shows it. The screen asks the core's pure functions what is allowed. */
export interface BuildView {
  readonly build: BuildState;
  readonly kit: ChosenKit;
  readonly kitPath: string;
  readonly facts: SafetyFacts;
  /** The step to do now; null when all are done. */
  readonly currentStep: string | null;
  /** The host's clocks when the view was made. */
  readonly now: Stamp;
  /** False when another face of the app is this build's one writer. */
  readonly writer: boolean;
  /** A practice power-up: every screen says so. `skippedMs` is how far its clock runs ahead, in milliseconds (ms). */
  readonly practice?: { readonly skippedMs: number };
  /** What to say once about this build: a journal that was cut, a kit folder that changed since. */
  readonly notices?: readonly KitProblem[];
  /** The kit's folder holds another kit than this build goes by; null or left out where it does not. */
  readonly kitChange?: KitDifference | null;
}

/** What a screen may ask to be written: an event, or a number for the host to judge. */
export type BuilderAction =
  | Exclude<
      BuildEvent,
      {
        kind:
          | 'run-started'
          | 'heartbeat'
          | 'journal-cut'
          | 'build-started'
          | 'reading-entered'
          | 'band-shown'
          | 'photo-added'
          | 'day-one-taken'
          | 'kit-changed'
          | 'exported'
          | 'repaired';
      }
    >
  /** A repair always says where hands were, be it that it cannot be said. */
  | (Repaired & Required<Pick<Repaired, 'places'>>)
  /** The changed kit whose differences were shown is taken for this build. */
  | { readonly kind: 'accept-kit'; readonly kitHash: string; readonly by: Means }
  | (Pick<ReadingEntered, 'reading' | 'typed' | 'by' | 'corrects' | 'instrument'> & {
      readonly kind: 'enter-reading';
    });

export type ActOutcome =
  | { readonly kind: 'done'; readonly view: BuildView; readonly judged: JudgedReading | null }
  /** The rules say no; nothing was written. */
  | { readonly kind: 'refused'; readonly refusals: readonly Refusal[]; readonly view: BuildView }
  /** Another entry came first: the screen shows `view` and the builder decides again. */
  | { readonly kind: 'stale'; readonly view: BuildView }
  | { readonly kind: 'problem'; readonly problems: Problems };

/** What came of looking at an instrument. */
export type InstrumentOutcome =
  | {
      readonly kind: 'shows';
      /** For the entry field. */
      readonly text: string;
      /** "245.3 V DC · 1 kV range" */
      readonly words: string;
      readonly taken: TakenFrom;
    }
  /** The rules say that it must not be connected there. */
  | { readonly kind: 'refused'; readonly refusals: readonly Refusal[] }
  | { readonly kind: 'problem'; readonly problems: Problems };

/** A number just entered, judged. */
export interface JudgedReading {
  readonly reading: string;
  readonly verdict: Verdict;
  /** "as expected · 2 % above" */
  readonly words: string;
  readonly expectation: ReadingPrediction;
  /** What it moved in the other expectations of its condition: one sentence, or none. */
  readonly moved: readonly string[];
}

/** A condition's predictions, before and after what was measured so far. */
export interface Expectation {
  readonly prediction: ConditionPrediction;
  /** The same readings, conditioned on this build's good readings. */
  readonly conditioned: readonly ReadingPrediction[];
}

/** A record file, opened to look at. */
export interface RecordView {
  readonly build: BuildState;
  /** Titles of what the record names; a record never needs its kit. */
  readonly kit: RecordKit;
  /** The photos that the builder sent along and that can be shown. */
  readonly photos: readonly RecordPhoto[];
  /** What the builder asks the maker; left out where nothing is asked. */
  readonly question?: RecordQuestion;
  /** Careless edits and cuts show here, in sentences; empty for a whole chain. */
  readonly flaws: readonly string[];
  /** All readings taken together, as written into the record; left out where it was not computed. */
  readonly together?: BuildJudgement;
}
