import { parseArgs } from 'node:util';

/** What was typed after `npm start --`. */
export interface StartOptions {
  /** A kit to open. */
  readonly kit: string | null;
  readonly data: string | undefined;
  readonly browser: boolean;
  readonly noOpen: boolean;
  readonly help: boolean;
  /** 0 takes any free port. */
  readonly port: number;
}

/** How to start, for `--help` and after a mistake. */
export const startHelp = [
  'Usage: npm start [-- DIR] [options]',
  '',
  '  DIR          a kit to open: a folder that holds a kit.yaml',
  '  --data DIR   where builds are kept, else KITWRIGHT_DATA, else your application data',
  '  --browser    in the browser, even where a window is possible',
  '  --no-open    open nothing, only print the address',
  '  --port N     this port instead of any free one',
].join('\n');

/** Reads what was typed; a text says what was wrong with it. */
export function readStartOptions(argv: readonly string[]): StartOptions | string {
  try {
    const { values, positionals } = parseArgs({
      args: [...argv],
      allowPositionals: true,
      options: {
        data: { type: 'string' },
        browser: { type: 'boolean', default: false },
        'no-open': { type: 'boolean', default: false },
        port: { type: 'string', default: '0' },
        help: { type: 'boolean', short: 'h', default: false },
      },
    });
    if (positionals.length > 1) return `One kit at a time, not ${positionals.length}.`;
    const port = Number(values.port);
    if (!Number.isInteger(port) || port < 0 || port > 65535) return `There is no port "${values.port}".`;
    const { data, browser, help } = values;
    return { kit: positionals[0] ?? null, data, browser, noOpen: values['no-open'], help, port };
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
