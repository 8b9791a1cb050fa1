import { describe, expect, it } from 'vitest';
import {
  emptyAddress,
  readAddress,
  readEarthVolts,
} from '../../../../renderer/features/instruments/instrument-form.ts';

describe('the address of a meter as typed', () => {
  it('is a host with a port, 5025 unless changed', () => {
    const host = { ...emptyAddress, host: ' 192.168.1.20 ' };
    expect(readAddress(host)).toEqual({ kind: 'tcp', host: '192.168.1.20', port: 5025 });
    expect(readAddress({ ...host, port: '65536' })).toBeNull();
    expect(readAddress({ ...host, host: 'a b' })).toBeNull();
    expect(readAddress(emptyAddress)).toBeNull();
  });

  it('is a serial port, of unknown speed where none is typed', () => {
    const serial = { ...emptyAddress, way: 'serial port', path: 'COM3' } as const;
    expect(readAddress(serial)).toEqual({ kind: 'serial', path: 'COM3', baudRate: null, frame: '8N1' });
    expect(readAddress({ ...serial, speed: '9600', frame: '7E2' })).toMatchObject({
      baudRate: 9600,
      frame: '7E2',
    });
    expect(readAddress({ ...serial, speed: '96 00' })).toBeNull();
    expect(readAddress({ ...serial, path: '/home/x' })).toBeNull();
  });
});

describe('the rated volts to earth', () => {
  it('are a voltage above zero', () => {
    expect(readEarthVolts('500 V')).toBe(500);
    expect(readEarthVolts('0,5 kV')).toBe(500);
    for (const text of ['', '0', '-500', 'much']) expect(readEarthVolts(text)).toBeNull();
  });
});
