import type { KitProblem, Result } from '../problem/problem.ts';
import { fail, succeed } from '../problem/problem.ts';
import { checkContext } from './checks/check.ts';
import type { KitCheck } from './checks/check.ts';
import { checkColdGate, checkProofs } from './checks/cold-gate.ts';
import { checkConditionOfReadings } from './checks/condition-of-reading.ts';
import { checkDischarge, checkMainsCapacitors } from './checks/discharge.ts';
import { checkFeedbackSense } from './checks/feedback-sense.ts';
import { checkInsideWhileLive } from './checks/inside-while-live.ts';
import { checkNetConnections, checkNetNames } from './checks/net-connections.ts';
import { checkFirstPower, checkOpenAnodes, checkOutputLoad } from './checks/output-stage.ts';
import { checkPictures } from './checks/pictures.ts';
import { checkEverythingIsFitted, checkStepOrder } from './checks/steps-use-parts.ts';
import { checkValveTypes } from './checks/valve-types.ts';
import { MOST_COMBINATIONS, allChoices, chooseVariants, countCombinations } from './choose-kit.ts';
import type { DraftSection, Finding, KitDraft } from './draft.ts';
import type { Kit } from './kit.ts';
import { inFileOrder, readDraft, toProblems } from './read-kit.ts';
import type { KitFile } from './read-kit.ts';

/** Every check of one combination. Adding one is a file in `checks/` and a line here. */
export const kitChecks: readonly KitCheck[] = [
  checkValveTypes,
  checkNetConnections,
  checkNetNames,
  checkEverythingIsFitted,
  checkStepOrder,
  checkConditionOfReadings,
  checkInsideWhileLive,
  checkProofs,
  checkColdGate,
  checkDischarge,
  checkMainsCapacitors,
  checkOutputLoad,
  checkOpenAnodes,
  checkFirstPower,
  checkFeedbackSense,
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
  const { draft, problems } = readDraft(text, file);
  const found = draft ? checkDraft(draft, problems, filesInFolder && new Set(filesInFolder)) : [];
  const all = inFileOrder([...problems, ...found]);
  const [first, ...rest] = all.filter(({ severity }) => severity === 'error');
  if (first) return fail(first, ...rest);
  if (!draft) throw new Error('A kit that could not be read must have a problem');
  const warnings = all.filter(({ severity }) => severity === 'warning');
  return succeed({ kit: draft.kit, source: draft.source }, warnings);
}

function checkDraft(
  draft: KitDraft,
  before: readonly KitProblem[],
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
  const unsound = unsoundSections(draft, before);
  const perChoice = allChoices(draft.kit).flatMap((choices) => {
    const { chosen, findings } = chooseVariants(draft.kit, choices, draft.source);
    const badVariants = new Set(findings.map(({ path }) => path.split('.')[0] ?? ''));
    const context = checkContext(draft, chosen);
    const isSound = (section: DraftSection) => !unsound.has(section) && !badVariants.has(sectionKey(section));
    const checks = kitChecks.filter(({ needs }) => needs.every(isSound));
    return [...findings, ...checks.flatMap(({ run }) => run(context))];
  });
  return once(toProblems([...pictures, ...perChoice], draft.source));
}

/** Sections with errors: checks that need them would only repeat what is already reported. */
function unsoundSections(draft: KitDraft, before: readonly KitProblem[]): ReadonlySet<string> {
  const unsound = new Set([...draft.broken].map((item) => item.split(' ')[0] ?? ''));
  for (const { severity, line } of before) {
    if (severity !== 'error' || line === undefined) continue;
    const section = sectionAtLine(draft, line);
    if (section !== null) unsound.add(section);
  }
  return unsound;
}

function sectionAtLine({ source }: KitDraft, line: number): string | null {
  const sections: readonly DraftSection[] = [
    'options',
    'parts',
    'leads',
    'nets',
    'conditions',
    'readings',
    'steps',
  ];
  let best: { section: string; line: number } | null = null;
  for (const [key, [at]] of Object.entries(source.keys)) {
    if (key.includes('.') || at > line || (best && at < best.line)) continue;
    best = { section: sections.find((section) => sectionKey(section) === key) ?? key, line: at };
  }
  return best?.section ?? null;
}

function sectionKey(section: DraftSection): string {
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
