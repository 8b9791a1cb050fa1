import type { z } from 'zod';
import type { ValveType } from '../../valves/valve-type.ts';
import { didYouMean } from '../did-you-mean.ts';
import type { DraftSection, Finding, KitDraft } from '../draft.ts';
import type { Chapter, Kit, Part, Place, Step } from '../kit.ts';
import { ID, LEAD_ID, PART_ID, place as placeSchema } from '../schema/fields.ts';
import { neededSections, sectionNames } from '../schema/kit-file.ts';
import { partKinds, partSchemas } from '../schema/parts.ts';
import type { WrittenPart } from '../schema/parts.ts';
import * as schemas from '../schema/sections.ts';
import { VALVE_ID, type WrittenValve, valveSchema } from '../schema/valves.ts';
import { itemKey } from '../source.ts';
import type { ItemSection } from '../source.ts';
import { Channels } from './channels.ts';
import { findingsOf } from './issues.ts';
import type { YamlTree } from './yaml-tree.ts';
import { salvage } from './salvage.ts';
import { toPart } from './to-part.ts';
import { toCondition, toLead, toReading } from './to-reading.ts';
import { toStep } from './to-step.ts';
import { toValve } from './to-valve.ts';
import { wordOf } from './word-of.ts';

type Table = Readonly<Record<string, unknown>>;

const DEFAULT_SAFE_VOLTS = 30;
/** IEC 61010-1 and IEC 62368-1: 60 V DC may be touched in normal condition; never set above. */
const HIGHEST_SAFE_VOLTS = 60;

const NOTHING: Kit = {
  format: 'kitwright/1',
  id: '',
  name: '',
  revision: '',
  maker: '',
  about: '',
  safeVolts: DEFAULT_SAFE_VOLTS,
  options: [],
  parts: [],
  leads: [],
  nets: {},
  layout: {},
  chassis: { width: 0, depth: 0 },
  conditions: [],
  readings: [],
  chapters: [],
};

/** Reads every section item by item, so that one mistake does not hide the next. */
export class SectionReader {
  readonly findings: Finding[] = [];
  readonly #tree: YamlTree;
  readonly #root: Table;
  readonly #channels: Channels;
  readonly #items: Record<string, string> = Object.create(null);
  readonly #broken = new Set<string>();
  readonly #brokenEnds = new Set<Place>();
  readonly #brokenMentions = new Set<string>();
  readonly #declared: Record<DraftSection, Set<string>> = {
    options: new Set(),
    valves: new Set(),
    parts: new Set(),
    leads: new Set(),
    nets: new Set(),
    conditions: new Set(),
    readings: new Set(),
    steps: new Set(),
  };

  constructor(tree: YamlTree) {
    this.#tree = tree;
    this.#root = asTable(tree.root) ?? {};
    this.#channels = new Channels(this.#root);
  }

  /** The draft; `findings` then holds what was wrong. */
  read(file: string): KitDraft {
    this.#checkSections();
    const options = this.#readTable('options', ID, schemas.optionSchema, (id, option) => ({
      id,
      title: option.title ?? id,
      choices: option.choose,
    }));
    const valves = this.#readValves();
    const parts = this.#readParts();
    const leads = this.#readTable('leads', LEAD_ID, schemas.leadSchema, toLead);
    const conditions = this.#readTable('conditions', ID, schemas.conditionSchema, toCondition);
    const readings = this.#readTable('readings', ID, schemas.readingSchema, (id, written, path) =>
      toReading(id, written, path, this.findings),
    );
    const kit: Kit = {
      ...NOTHING,
      ...this.#readHead(),
      options,
      ...(valves.length > 0 ? { valves } : {}),
      parts,
      leads,
      nets: this.#readNets(),
      ...this.#readMatched(),
      layout: this.#readLayout(),
      conditions,
      readings,
      chapters: this.#readChapters({ conditions, readings }),
    };
    const { values, keys } = this.#tree;
    const source = { file, values, keys, items: this.#items };
    return {
      kit,
      source,
      declared: this.#declared,
      broken: this.#broken,
      brokenEnds: this.#brokenEnds,
      brokenMentions: this.#brokenMentions,
    };
  }

  #checkSections(): void {
    for (const key of Object.keys(this.#root)) {
      if (sectionNames.includes(key)) continue;
      const hint = didYouMean(key, sectionNames);
      this.#find({ code: 'kit/unknown-key', path: key, message: `Unknown key "${key}"`, hint, atKey: true });
    }
    for (const key of neededSections) {
      if (Object.hasOwn(this.#root, key)) continue;
      const message = `The section "${key}" is missing`;
      this.#find({ code: 'kit/missing-key', path: key, message, hint: `Add "${key}:" to the file.` });
    }
  }

  #readHead(): Partial<Kit> {
    const head = this.#parse(schemas.headSchema, this.#root['kit'], 'kit');
    const chassis = this.#parse(schemas.chassisSchema, this.#root['chassis'], 'chassis');
    const size = chassis && { width: chassis.width * 1000, depth: chassis.depth * 1000 };
    if (!head) return size ? { chassis: size } : {};
    const { 'safe-below': safeVolts = DEFAULT_SAFE_VOLTS, ...named } = head;
    if (safeVolts > HIGHEST_SAFE_VOLTS) {
      const message = `The safe voltage is ${safeVolts} V; it is never above ${HIGHEST_SAFE_VOLTS} V DC`;
      const hint = 'Leave it out for 30 V.';
      this.#find({ code: 'kit/safe-voltage', path: 'kit.safe-below', message, hint });
    }
    return { ...named, safeVolts, ...(size ? { chassis: size } : {}) };
  }

  /** Salvaged figures would be fitted for nothing: a type with any mistake is broken. */
  #readValves(): ValveType[] {
    return this.#variants('valves', VALVE_ID).flatMap(({ id, raw, path }) => {
      const before = this.findings.length;
      const written = this.#parse<WrittenValve>(valveSchema, raw, path);
      const isSound = written !== null && this.findings.length === before;
      const type = isSound ? toValve(id, written, path, this.findings) : null;
      if (!type) this.#breakItem('valves', id, raw);
      return type ?? [];
    });
  }

  #readParts(): Part[] {
    const parts: Part[] = [];
    for (const { id, raw, path } of this.#variants('parts', PART_ID)) {
      const kind = asTable(raw)?.['kind'];
      const schema = partKinds.find((known) => known === kind);
      if (schema === undefined) {
        this.#breakItem('parts', id, raw);
        this.#reportKind(raw, kind, path);
        continue;
      }
      const written = this.#parse<WrittenPart>(partSchemas[schema] as z.ZodType<WrittenPart>, raw, path);
      if (!written) this.#breakItem('parts', id, raw);
      else parts.push(this.#file('parts', toPart(id, written), path));
    }
    return parts;
  }

  #reportKind(raw: unknown, kind: unknown, path: string): void {
    if (!asTable(raw)) {
      const hint = 'Write { kind: …, title: … }.';
      return this.#find({ code: 'kit/wrong-shape', path, message: 'A part should be a table', hint });
    }
    if (kind === undefined) {
      const hint = `Add "kind:", one of ${partKinds.join(', ')}.`;
      const at = `${path}.kind`;
      return this.#find({ code: 'kit/missing-key', path: at, message: '"kind" is missing', hint });
    }
    const message = `Unknown kind of part "${wordOf(kind)}"`;
    const hint = didYouMean(wordOf(kind), partKinds);
    return this.#find({ code: 'kit/unknown-kind', path: `${path}.kind`, message, hint });
  }

  #readTable<Written, Item extends { readonly id: string }>(
    section: 'options' | 'leads' | 'conditions' | 'readings',
    pattern: RegExp,
    schema: z.ZodType<Written>,
    convert: (id: string, written: Written, path: string) => Item,
  ): Item[] {
    const items: Item[] = [];
    for (const { id, raw, path } of this.#variants(section, pattern)) {
      const written = this.#parse(schema, raw, path);
      if (!written) this.#breakItem(section, id, raw);
      else items.push(this.#file(section, convert(id, written, path), path));
    }
    return items;
  }

  #readNets(): Record<string, Place> {
    const nets: Record<string, Place> = {};
    for (const { id, raw, path } of this.#variants('nets', ID)) {
      const at = this.#parse(placeSchema, raw, path);
      if (at === null) this.#breakItem('nets', id, raw);
      else nets[id] = at;
    }
    return nets;
  }

  #readMatched(): Pick<Kit, 'matched'> {
    const sets = this.#parse(schemas.matchedSchema, this.#root['matched'], 'matched');
    return sets ? { matched: sets } : {};
  }

  #readLayout(): Kit['layout'] {
    const layout: Record<string, readonly [number, number, number]> = {};
    for (const [id, raw] of Object.entries(this.#section('layout'))) {
      const position = this.#parse(schemas.positionSchema, raw, `layout.${id}`);
      if (position) layout[id] = position;
    }
    return layout;
  }

  #readChapters(surroundings: Pick<Kit, 'conditions' | 'readings'>): Chapter[] {
    const raw = this.#root['chapters'];
    if (raw === undefined) return [];
    if (!Array.isArray(raw)) {
      const message = '"chapters" should be a list';
      this.#find({
        code: 'kit/wrong-shape',
        path: 'chapters',
        message,
        hint: 'Begin each chapter with "- id:".',
      });
      return [];
    }
    return raw.map((chapter: unknown, index) => {
      const path = `chapters.${index}`;
      const { steps, ...rest } = asTable(chapter) ?? {};
      const head = this.#parse(schemas.chapterHeadSchema, asTable(chapter) ? rest : chapter, path);
      if (head) this.#file('chapters', head, path);
      return {
        id: head?.id ?? '',
        title: head?.title ?? '',
        steps: this.#readSteps(steps, path, surroundings),
      };
    });
  }

  #readSteps(raw: unknown, path: string, surroundings: Pick<Kit, 'conditions' | 'readings'>): Step[] {
    if (!Array.isArray(raw)) {
      const message = 'A chapter needs "steps", a list';
      this.#find({
        code: 'kit/missing-key',
        path: `${path}.steps`,
        message,
        hint: 'Begin each step with "- ".',
      });
      return [];
    }
    const steps: Step[] = [];
    raw.forEach((plain: unknown, index) => {
      const item = this.#channels.named(plain);
      const at = `${path}.steps.${index}`;
      const id = asTable(item)?.['id'];
      if (typeof id === 'string') this.#declared.steps.add(id);
      const written = this.#parse(schemas.stepSchema, item, at);
      if (!written) {
        this.#breakItem('steps', String(id), item);
        return;
      }
      const key = itemKey('steps', written.id, written.when);
      if (Object.hasOwn(this.#items, key)) {
        const message = `The step id "${written.id}" is used twice`;
        const hint = 'Rename one of the two steps.';
        this.#find({ code: 'kit/duplicate-id', path: `${at}.id`, message, hint });
        // Under a name of its own it still takes part in the checks of what is done when.
        written.id = `${written.id}#${at}`;
      }
      steps.push(this.#file('steps', toStep(written, at, surroundings, this.findings), at));
    });
    return steps;
  }

  /** Every item of a section, variants one by one; also notes which ids the file declares. */
  #variants(section: DraftSection, pattern: RegExp): { id: string; raw: unknown; path: string }[] {
    return Object.entries(this.#section(section)).flatMap(([id, raw]) => {
      const path = `${section}.${id}`;
      this.#declared[section].add(id);
      if (!pattern.test(id)) {
        const message = `"${id}" is not a name for an item of "${section}"`;
        this.#find({ code: 'kit/bad-id', path, message, hint: nameHint(section), atKey: true });
        this.#breakItem(section, id, raw);
        return [];
      }
      if (!Array.isArray(raw)) return this.#perChannel(section, id, raw, path);
      return raw.flatMap((variant: unknown, index) =>
        this.#perChannel(section, id, variant, `${path}.${index}`),
      );
    });
  }

  #perChannel(section: DraftSection, id: string, raw: unknown, path: string) {
    if (section === 'conditions') return [{ id, raw: this.#channels.named(raw), path }];
    if (section === 'options') return [{ id, raw, path }];
    const items = this.#channels.itemsOf(id, raw);
    if (!items.some(([own]) => own === id)) this.#declared[section].delete(id);
    return items.map(([own, each]) => {
      this.#declared[section].add(own);
      return { id: own, raw: each, path };
    });
  }

  #section(name: string): Table {
    const raw = this.#root[name];
    if (raw === undefined) return {};
    const table = asTable(raw);
    if (table) return table;
    const message = `"${name}" should be a table of names and values`;
    this.#find({ code: 'kit/wrong-shape', path: name, message, hint: 'Indent one name per line below it.' });
    return {};
  }

  /** Reads an item; with mistakes that are harmless for the rest, what can be salvaged of it. */
  #parse<Written>(schema: z.ZodType<Written>, raw: unknown, path: string): Written | null {
    // Missing is reported with the sections, empty with the text.
    if (raw === undefined) return null;
    const parsed = schema.safeParse(raw, { reportInput: true });
    if (parsed.success) return parsed.data;
    const shape = 'shape' in schema ? Object.keys(schema.shape as object) : [];
    for (const finding of findingsOf(parsed.error.issues, path, shape)) this.#find(finding);
    return salvage(schema, raw, parsed.error.issues);
  }

  #find(finding: Finding): void {
    if (!this.#tree.reported.has(finding.path)) this.findings.push(finding);
  }

  #file<Item extends { readonly id: string }>(section: ItemSection, item: Item, path: string): Item {
    const when = 'when' in item ? (item.when as Readonly<Record<string, string>>) : {};
    this.#items[itemKey(section, item.id, when)] ??= path;
    return item;
  }

  #breakItem(section: DraftSection, id: string, raw: unknown): void {
    this.#broken.add(`${section} ${id}`);
    if (section === 'steps') for (const text of textsIn(raw)) this.#brokenMentions.add(text);
    const table = asTable(raw);
    const between = table?.['between'];
    const ends = Array.isArray(between) ? between : [table?.['from'], table?.['to'], raw];
    for (const end of ends) if (typeof end === 'string') this.#brokenEnds.add(end);
  }
}

function asTable(raw: unknown): Table | null {
  return typeof raw === 'object' && raw !== null && !Array.isArray(raw) ? (raw as Table) : null;
}

/** Every text in a value, however deep; depth is capped before. */
function textsIn(raw: unknown): string[] {
  if (typeof raw === 'string') return [raw];
  if (typeof raw !== 'object' || raw === null) return [];
  return Object.values(raw).flatMap(textsIn);
}

function nameHint(section: DraftSection): string {
  if (section === 'parts') return 'Parts are capitals and digits, with a channel as V2-left: R4, TS1.';
  if (section === 'valves')
    return 'Valve types are capitals and digits, as printed on the glass: ECC83, 6N2P.';
  if (section === 'leads') return 'Leads are W and a number: W7.';
  return 'Use small letters, digits and hyphens, beginning with a letter.';
}
