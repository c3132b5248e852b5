/** Hosts of plans about spanning trees: one that sends to each VLAN, or takes what another sends there. */
const STREAM = { format: { coding: 'st2110-30', channels: 8, sampleRate: 48000, sampleBits: 24, packetTime: '1 ms' } };

/** A host on a switch, sending to or taking from each VLAN. */
export function host(name: string, at: string, vlans: readonly string[], takes?: string): object {
  return {
    name,
    interfaces: vlans.map((vlan) => ({ name: vlan, vlan, port: `${at}/${name}-${vlan}` })),
    ...(takes === undefined
      ? {
          senders: vlans.map((vlan, index) => ({
            name: vlan,
            ...STREAM,
            legs: [{ interface: vlan, group: `239.1.${index}.1`, port: 5004 }],
          })),
        }
      : { receivers: vlans.map((vlan) => ({ name: vlan, takes: `${takes}/${vlan}`, legs: [{ interface: vlan }] })) }),
  };
}

/** The switch ports such a host is patched to. */
export function hostPorts(name: string, vlans: readonly string[]): readonly object[] {
  return vlans.map((vlan) => ({ name: `${name}-${vlan}`, access: vlan, rate: '1G' }));
}
