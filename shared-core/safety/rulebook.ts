import type { Rulebook } from './guard.ts';
import { lapseRules } from './lapse.ts';
import { acceptanceNeedsReason, acceptanceOnlyOutOfBand, gateIsNeverAccepted } from './rules/acceptance.ts';
import { blackLeadFirst, probeStyleChosen } from './rules/black-lead-first.ts';
import { byHand } from './rules/by-hand.ts';
import { clipSuitable } from './rules/clip-suitable.ts';
import { clipsMoveWhenSafe } from './rules/clips-move-when-safe.ts';
import { fuseAsKit, fuseReplacedOnce, fuseSidesFirst } from './rules/fuses.ts';
import { instrumentFits } from './rules/instrument-fits.ts';
import { insideNeedsDead } from './rules/inside-needs-dead.ts';
import { declaredWhenNotLive, kitChangesWhenDead } from './rules/kit-change.ts';
import { knownNames } from './rules/known-names.ts';
import { lookCheckedInFull } from './rules/look-checked-in-full.ts';
import { looksAfterPlugOut, looksOnDcVolts } from './rules/looks-after-plug-out.ts';
import { meterOnBattery } from './rules/meter-on-battery.ts';
import { numbers } from './rules/numbers.ts';
import { ohmsNeedEmptyStores } from './rules/ohms-need-empty-stores.ts';
import { lampStageFirst, workLookedOver, workReadAgain, wrongDescribed } from './rules/plug-in/after-work.ts';
import {
  benchRecorded,
  mainsNeedsCategory,
  mainsOfTheKit,
  meterFineEnough,
  redLeadInVolts,
  withinMeterRating,
} from './rules/plug-in/bench-recorded.ts';
import { coldGate, fusesRead, insulationSettled } from './rules/plug-in/cold-gate.ts';
import { conditionHasSupply, notAlreadyLive, reentryOnlyUntouched } from './rules/plug-in/entry-state.ts';
import { adjustersMostNegative, fixedBias } from './rules/plug-in/fixed-bias.ts';
import {
  blackLeadClipped,
  cautionsAcknowledged,
  clipsOff,
  mainsSwitchOff,
} from './rules/plug-in/ready-to-plug.ts';
import { valvesAsStated } from './rules/plug-in/valves-as-stated.ts';
import { earlierStepsDone } from './rules/plug-in/steps-done.ts';
import { verdictsSettled } from './rules/plug-in/verdicts-settled.ts';
import { meterAfter, meterBefore } from './rules/proof/meter-works.ts';
import {
  firstLooks,
  looksChecked,
  plugOut,
  secondLooks,
  storesKnown,
} from './rules/proof/stores-looked-at.ts';
import { benchStaysWhileLive } from './rules/bench-stays.ts';
import { probeShownFirst } from './rules/probe-shown.ts';
import { pullThePlug } from './rules/pull-the-plug.ts';
import { readingInItsCondition } from './rules/reading-in-its-condition.ts';
import { solderingNeedsFiveVolts } from './rules/soldering-needs-five-volts.ts';
import { plugBeforeWords, wrongWhileSupplied } from './rules/something-wrong.ts';
import { stepReallyDone } from './rules/step-done.ts';
import { valveAfterBias } from './rules/valve-after-bias.ts';

/** Every rule of the machine. A test fails for each line taken out. */
export const rulebook: Rulebook = {
  guards: [
    byHand,
    knownNames,
    numbers,
    pullThePlug,
    insideNeedsDead,
    clipsMoveWhenSafe,
    blackLeadFirst,
    probeStyleChosen,
    clipSuitable,
    readingInItsCondition,
    probeShownFirst,
    benchStaysWhileLive,
    ohmsNeedEmptyStores,
    instrumentFits,
    solderingNeedsFiveVolts,
    looksAfterPlugOut,
    looksOnDcVolts,
    lookCheckedInFull,
    meterOnBattery,
    acceptanceOnlyOutOfBand,
    acceptanceNeedsReason,
    gateIsNeverAccepted,
    plugBeforeWords,
    wrongWhileSupplied,
    fuseSidesFirst,
    fuseAsKit,
    fuseReplacedOnce,
    kitChangesWhenDead,
    declaredWhenNotLive,
    stepReallyDone,
    valveAfterBias,
    notAlreadyLive,
    conditionHasSupply,
    reentryOnlyUntouched,
    earlierStepsDone,
    verdictsSettled,
    benchRecorded,
    mainsOfTheKit,
    meterFineEnough,
    withinMeterRating,
    mainsNeedsCategory,
    redLeadInVolts,
    clipsOff,
    blackLeadClipped,
    mainsSwitchOff,
    cautionsAcknowledged,
    coldGate,
    insulationSettled,
    fusesRead,
    fixedBias,
    adjustersMostNegative,
    valvesAsStated,
    workLookedOver,
    workReadAgain,
    lampStageFirst,
    wrongDescribed,
  ],
  proofs: [storesKnown, plugOut, firstLooks, secondLooks, looksChecked, meterBefore, meterAfter],
  lapses: lapseRules,
};
