import type { Device } from '../circuit/device.ts';
import { bjt } from './bjt.ts';
import { capacitor } from './capacitor.ts';
import { chargePumpSupply } from './charge-pump-supply.ts';
import { chokeInputSupply } from './choke-input-supply.ts';
import { currentSource } from './current-source.ts';
import { diode } from './diode.ts';
import { doublerSupply } from './doubler-supply.ts';
import { fuse } from './fuse.ts';
import { gasStabiliser } from './gas-stabiliser.ts';
import { heater } from './heater.ts';
import { inductor } from './inductor.ts';
import { lamp } from './lamp.ts';
import { led } from './led.ts';
import { linearRegulator } from './linear-regulator.ts';
import { mosfet } from './mosfet.ts';
import { outputTransformer } from './output-transformer.ts';
import { pentode } from './pentode.ts';
import { potentiometer } from './potentiometer.ts';
import { pushPullOutputTransformer } from './push-pull-output-transformer.ts';
import { rectifierSupply } from './rectifier-supply.ts';
import { rectifierValve } from './rectifier-valve.ts';
import { resistor } from './resistor.ts';
import { switchContact } from './switch.ts';
import { tappedOutputTransformer } from './tapped-output-transformer.ts';
import { triode } from './triode.ts';
import { voltageSource } from './voltage-source.ts';

/** Every device there is: what is not in this list does not exist for tests and kits. */
export const devices: readonly Device[] = [
  bjt,
  capacitor,
  chargePumpSupply,
  chokeInputSupply,
  currentSource,
  diode,
  doublerSupply,
  fuse,
  gasStabiliser,
  heater,
  inductor,
  lamp,
  led,
  linearRegulator,
  mosfet,
  outputTransformer,
  pentode,
  potentiometer,
  pushPullOutputTransformer,
  rectifierSupply,
  rectifierValve,
  resistor,
  switchContact,
  tappedOutputTransformer,
  triode,
  voltageSource,
];
