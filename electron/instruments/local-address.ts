import { BlockList } from 'node:net';

/**
 * Addresses that do not leave the house: loopback, private and link-local ones.
 *
 * RFC 1122 (127/8), RFC 1918, RFC 3927 (169.254/16), RFC 4193 (fc00::/7), RFC 4291 (::1, fe80::/10).
 */
const localAddresses = new BlockList();
localAddresses.addSubnet('127.0.0.0', 8);
localAddresses.addSubnet('10.0.0.0', 8);
localAddresses.addSubnet('172.16.0.0', 12);
localAddresses.addSubnet('192.168.0.0', 16);
localAddresses.addSubnet('169.254.0.0', 16);
localAddresses.addAddress('::1', 'ipv6');
localAddresses.addSubnet('fc00::', 7, 'ipv6');
localAddresses.addSubnet('fe80::', 10, 'ipv6');

/** Whether a numeric address lies in the builder's own network: Kitwright calls nobody outside. */
export function isLocalAddress(address: string, family: 4 | 6): boolean {
  return localAddresses.check(address, family === 4 ? 'ipv4' : 'ipv6');
}
