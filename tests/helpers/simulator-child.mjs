// Runs netlists one by one: JSON lines in ({ netlist }), JSON lines out ({ names, columns } or { error }).
import { createInterface } from 'node:readline';
import { Simulation } from 'eecircuit-engine';

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
    const complaints = simulation.getError().filter((text) => /^(error|warning)/i.test(text));
    if (complaints.length > 0) return { error: complaints.join('\n') };
    if (result.dataType !== 'real') return { error: 'the result is not real' };
    return { names: result.variableNames, columns: result.data.map(({ values }) => values) };
  } catch (error) {
    return { error: String(error) };
  }
}
