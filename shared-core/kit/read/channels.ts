type Table = Readonly<Record<string, unknown>>;

/** Sections whose items may be written once for every channel. */
type ChannelSection = 'parts' | 'leads' | 'readings';

/** Keys of an item that hold a place, or a list of places. */
const placeKeys = ['between', 'from', 'to', 'at', 'against'];

/** Keys of a condition or step that name parts, leads or readings, as a list or as the names of a table. */
const nameKeys = [
  'fitted',
  'switches',
  'controls',
  'loads',
  'parts',
  'leads',
  'gather',
  'read',
  'signal',
  'readings',
];

/**
 * What a kit file writes once for each channel: `R1: { …, channels: [left, right] }` is R1-left and R1-right.
 *
 * Within such an item a place or net that is itself written for this channel is the one of the same channel.
 * A net whose place is on such a part is one net for each channel. Where a condition or step names such an item
 * without its channel, all channels are meant.
 */
export class Channels {
  readonly #of = new Map<string, readonly string[]>();

  constructor(root: Table) {
    for (const section of ['parts', 'leads', 'readings'] satisfies ChannelSection[]) {
      for (const [id, raw] of Object.entries(tableOf(root[section]))) {
        const [first] = Array.isArray(raw) ? (raw as unknown[]) : [raw];
        this.#note(id, channelsIn(first));
      }
    }
    for (const [label, place] of Object.entries(tableOf(root['nets']))) {
      if (typeof place === 'string') this.#note(label, this.#of.get(place.split('.')[0] ?? '') ?? []);
    }
  }

  /** One item, or one for each channel it is written for. */
  itemsOf(id: string, raw: unknown): readonly (readonly [string, unknown])[] {
    const channels = this.#of.get(id) ?? [];
    if (channels.length === 0) return [[id, raw]];
    return channels.map((channel) => [`${id}-${channel}`, this.#inChannel(raw, channel)]);
  }

  /** A condition or step with every name that is written for channels replaced by those of the channels. */
  named(raw: unknown): unknown {
    if (!isTable(raw)) return raw;
    return Object.fromEntries(
      Object.entries(raw).map(([key, value]) => {
        if (key === 'soak') return [key, this.named(value)];
        return [key, nameKeys.includes(key) ? this.#names(value) : value];
      }),
    );
  }

  /** All names of one channel after those of the other, so that the first ones keep their position in the file. */
  #names(value: unknown): unknown {
    if (Array.isArray(value)) {
      const all = value.map((name: unknown) => this.#each(name));
      const most = Math.max(0, ...all.map(({ length }) => length));
      return Array.from({ length: most }, (_, n) => all.flatMap((names) => names.slice(n, n + 1))).flat();
    }
    if (!isTable(value)) return value;
    return Object.fromEntries(
      Object.entries(value).flatMap(([name, each]) => this.#each(name).map((one) => [String(one), each])),
    );
  }

  #each(name: unknown): readonly unknown[] {
    const channels = typeof name === 'string' ? (this.#of.get(name) ?? []) : [];
    return channels.length === 0 ? [name] : channels.map((channel) => `${String(name)}-${channel}`);
  }

  #inChannel(raw: unknown, channel: string): unknown {
    if (typeof raw === 'string') return this.#place(raw, channel);
    if (!isTable(raw)) return raw;
    const entries = Object.entries(raw).filter(([key]) => key !== 'channels');
    return Object.fromEntries(
      entries.map(([key, value]): [string, unknown] => {
        if (key === 'title' && typeof value === 'string') return [key, `${value}, ${channel}`];
        if (!placeKeys.includes(key)) return [key, value];
        const isList = Array.isArray(value);
        return [
          key,
          isList
            ? value.map((end: unknown) => this.#inChannel(end, channel))
            : this.#inChannel(value, channel),
        ];
      }),
    );
  }

  #place(place: string, channel: string): string {
    const point = place.indexOf('.');
    const [head, end] = point < 0 ? [place, ''] : [place.slice(0, point), place.slice(point)];
    return this.#of.get(head)?.includes(channel) ? `${head}-${channel}${end}` : place;
  }

  #note(id: string, channels: readonly string[]): void {
    if (channels.length > 0) this.#of.set(id, channels);
  }
}

/** The channels an item is written for; none where the list is missing or is no list of channel names. */
function channelsIn(raw: unknown): readonly string[] {
  const list = isTable(raw) ? raw['channels'] : undefined;
  if (!Array.isArray(list) || list.length > 8) return [];
  const names = list.filter(
    (name: unknown): name is string => typeof name === 'string' && /^[a-z]+$/.test(name),
  );
  return names.length === list.length && new Set(names).size === names.length ? names : [];
}

function tableOf(raw: unknown): Table {
  return isTable(raw) ? raw : {};
}

function isTable(raw: unknown): raw is Table {
  return typeof raw === 'object' && raw !== null && !Array.isArray(raw);
}
