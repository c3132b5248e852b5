/** Rigs that are merged in place by tests which end the program in the middle. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

export const RIGS = ['heron', 'dunlin', 'sanderling'];

/** Three small rigs that use the same groups and addresses, two files each; the last two move. */
export function layRigs(at: string): void {
  for (const rig of RIGS) {
    mkdirSync(join(at, rig), { recursive: true });
    writeFileSync(
      join(at, rig, 'network.yaml'),
      `rig: ${rig}
networks: [{name: red, role: media, leg: 1}]
vlans: [{name: red-video, id: 210, network: red, subnet: 10.20.10.0/24}]
`,
    );
    for (const number of [1, 2])
      writeFileSync(
        join(at, rig, `camera-${number}.yaml`),
        `# ${'Something that the crew wrote down about this camera. '.repeat(200)}
devices:
  - name: ${rig}-cam-${number}
    interfaces: [{name: red, vlan: red-video, address: 10.20.10.${number}/24}]
    senders: [{name: video, legs: [{interface: red, group: 239.192.10.${number}, port: 5004}]}]
`,
      );
  }
  writeFileSync(join(at, 'join.yaml'), `joins: [{vlans: [${RIGS.map((rig) => `"${rig}:red-video"`).join(', ')}]}]\n`);
}

/** A merge that writes over the plans of two of them. */
export const IN_PLACE: readonly string[] = ['merge', ...RIGS, '--join', 'join.yaml', '--in-place', '--keep', 'heron'];
