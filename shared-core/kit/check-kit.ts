import type { KitProblem, Result } from '../problem/problem.ts';
import { fail, succeed } from '../problem/problem.ts';
import { checkContext } from './checks/check.ts';
import type { KitCheck } from './checks/check.ts';
import { checkColdGate, checkProofs } from './checks/cold-gate.ts';
import { checkConditionOfReadings } from './checks/condition-of-reading.ts';
import { checkDischarge, checkMainsCapacitors } from './checks/discharge.ts';
import { checkFeedbackSense } from './checks/feedback-sense.ts';
import { checkBiasAdjusters, checkBiasFirst, checkBiasPositions } from './checks/fixed-bias.ts';
import { checkInsideWhileLive, checkReach, checkSwitchOn } from './checks/inside-while-live.ts';
import { checkNetConnections, checkNetNames } from './checks/net-connections.ts';
import { checkFirstPower, checkOpenAnodes, checkOutputLoad } from './checks/output-stage.ts';
import { checkPictures } from './checks/pictures.ts';
import { checkEverythingIsFitted, checkStepOrder } from './checks/steps-use-parts.ts';
import { checkValveTypes } from './checks/valve-types.ts';
import { MOST_COMBINATIONS, allChoices, chooseVariants, countCombinations } from './choose-kit.ts';
import type { Finding, KitDraft } from './draft.ts';
import type { Kit } from './kit.ts';
import { inFileOrder, readDraft, toProblems } from './read-kit.ts';
import type { KitFile } from './read-kit.ts';

/** Every check of one combination after that of the valve types. Adding one is a file in `checks/` and a line here. */
export const kitChecks: readonly KitCheck[] = [
  checkNetConnections,
  checkNetNames,
  checkEverythingIsFitted,
  checkStepOrder,
  checkConditionOfReadings,
  checkInsideWhileLive,
  checkReach,
  checkSwitchOn,
  checkProofs,
  checkColdGate,
  checkDischarge,
  checkMainsCapacitors,
  checkOutputLoad,
  checkOpenAnodes,
  checkFirstPower,
  checkFeedbackSense,
  checkBiasFirst,
  checkBiasAdjusters,
  checkBiasPositions,
];

/**
 * Reads and checks a kit file: everything that can be said without simulating the circuit.
 *
 * Every combination of choices is checked; a mistake met in several is reported once.
 *
 * @param text The file's text.
 * @param file Its name as problems should show it.
 * @param filesInFolder Paths in the kit's folder with forward slashes, to find missing pictures; null where
 *   they are not known.
 */
export function checkKit(text: string, file: string, filesInFolder: readonly string[] | null): Result<Kit> {
  const result = checkKitFile(text, file, filesInFolder);
  return result.ok ? succeed(result.value.kit, result.warnings) : result;
}

/** As `checkKit`, with the positions kept for the electrical checks that follow. */
export function checkKitFile(
  text: string,
  file: string,
  filesInFolder: readonly string[] | null,
): Result<KitFile> {
  const { draft, problems, unsound } = readDraft(text, file);
  const found = draft ? checkDraft(draft, unsound, filesInFolder && new Set(filesInFolder)) : [];
  const all = inFileOrder([...problems, ...found]);
  const [first, ...rest] = all.filter(({ severity }) => severity === 'error');
  if (first) return fail(first, ...rest);
  if (!draft) throw new Error('A kit that could not be read must have a problem');
  const warnings = all.filter(({ severity }) => severity === 'warning');
  return succeed({ kit: draft.kit, source: draft.source }, warnings);
}

function checkDraft(
  draft: KitDraft,
  unsettled: ReadonlySet<string>,
  files: ReadonlySet<string> | null,
): KitProblem[] {
  const count = countCombinations(draft.kit);
  const pictures = checkPictures(draft, files);
  if (count > MOST_COMBINATIONS) {
    const message = `The options have ${count} combinations; at most ${MOST_COMBINATIONS} are checked and predicted`;
    const hint = 'Make it two kits.';
    const finding: Finding = { code: 'kit/too-many-choices', path: 'options', message, hint, atKey: true };
    return toProblems([...pictures, finding], draft.source);
  }
  const brokenSections = [...draft.broken].map((item) => sectionKey(item.split(' ')[0] ?? ''));
  const perChoice = allChoices(draft.kit).flatMap((choices) => {
    const { chosen, findings } = chooseVariants(draft.kit, choices, draft);
    const badVariants = findings.map(({ path }) => path.split('.')[0] ?? '');
    // What is not known well enough would only repeat as a second problem what is already reported.
    const unsound = new Set([...unsettled, ...brokenSections, ...badVariants]);
    const context = checkContext(draft, chosen);
    // Without the valve's pins nothing can be said about what its electrodes are joined to.
    const ofValves = checkValveTypes.run(context);
    if (ofValves.length > 0 || unsound.has('valves')) unsound.add('parts');
    const checks = kitChecks.filter(({ needs }) =>
      needs.every((section) => !unsound.has(sectionKey(section))),
    );
    return [...findings, ...ofValves, ...checks.flatMap(({ run }) => run(context))];
  });
  return once(toProblems([...pictures, ...perChoice], draft.source));
}

/** Steps stand below the chapters. */
function sectionKey(section: string): string {
  return section === 'steps' ? 'chapters' : section;
}

/** The same mistake in several combinations counts once. */
function once(problems: readonly KitProblem[]): KitProblem[] {
  const seen = new Set<string>();
  return problems.filter(({ code, line, column, hint }) => {
    const key = [code, line, column, hint].join('|');
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
