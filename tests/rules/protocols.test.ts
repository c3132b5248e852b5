/**
 * A finding on IGMP cites what defines IGMP (RFC 2236, RFC 3376), one on MLD what defines MLD (RFC 2710, RFC 3810): each
 * document names its protocol in its own title.
 */
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { loadRule, read, ruleFolders, type RuleFolder } from './load.js';

const DEFINED_BY = { IGMP: ['RFC 2236', 'RFC 3376'], MLD: ['RFC 2710', 'RFC 3810'] };
const folders = ruleFolders('igmp');
const bad = folders.flatMap((folder) =>
  folder.files
    .filter((file) => /^bad.*\.yaml$/.test(file) && !file.includes('.beside.'))
    .map((file) => ({ folder, file, name: `${folder.id} ${file}` })),
);

describe('findings on one of the two protocols', () => {
  it.each(bad)('$name cites no document of the other', async ({ folder, file }) => {
    const findings = await findingsOf(folder, file);
    expect(findings).not.toEqual([]);
    for (const { subject, sources } of findings) {
      expect(sources).not.toEqual([]);
      const documents = sources.flatMap((one) => ('document' in one ? [one.document] : []));
      if (subject.startsWith('IGMP ')) for (const other of DEFINED_BY.MLD) expect(documents).not.toContain(other);
      if (subject.startsWith('MLD ')) for (const other of DEFINED_BY.IGMP) expect(documents).not.toContain(other);
    }
  });

  it('are found for both', async () => {
    const subjects = await Promise.all(
      bad.map(async ({ folder, file }) => (await findingsOf(folder, file)).map((one) => one.subject)),
    );
    for (const protocol of Object.keys(DEFINED_BY))
      expect(subjects.flat().some((one) => one.startsWith(`${protocol} `))).toBe(true);
  });
});

async function findingsOf(folder: RuleFolder, file: string): Promise<readonly Finding[]> {
  const beside = folder.files.filter((other) => other.startsWith(`${file.replace('.yaml', '')}.beside.`));
  const inputs = [file, ...beside].map((name) => ({ name, text: read(folder, name) }));
  return lintInputs(inputs, [await loadRule(folder)], { today: '2026-06-01' }).findings;
}
