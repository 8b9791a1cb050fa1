// Runs netlists one by one: JSON lines in ({ netlist }), JSON lines out ({ errors, names, columns }).
import { createInterface } from 'node:readline';
import { Simulation } from 'eecircuit-engine';

const attemptFailed = /^warning: (.*stepping failed|singular matrix)/i;

const simulation = new Simulation();
await simulation.start();

for await (const line of createInterface({ input: process.stdin })) {
  process.stdout.write(`${JSON.stringify(await run(JSON.parse(line).netlist))}\n`);
}

/** @param {string} netlist */
async function run(netlist) {
  try {
    simulation.setNetList(netlist);
    const result = await simulation.runSim();
    // A broken netlist does not reject: what it printed has to be read.
    // An attempt that failed is no error while the next way of stepping succeeds; else an Error follows.
    const errors = simulation
      .getError()
      .filter((text) => /^(error|warning)/i.test(text) && !attemptFailed.test(text));
    return { errors, names: result.variableNames, columns: result.data.map(({ values }) => values) };
  } catch (error) {
    return { errors: [String(error)], names: [], columns: [] };
  }
}
