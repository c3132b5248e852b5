/**
 * Build step: joins the built modules into a few files, one for each door of the package and those they share. Hundreds of
 * small files take longer to find and open than a rig takes to judge. The names stay readable in a stack.
 */
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { namesIn, removeFolder } from '../disk/text.js';

const BUILT = fileURLToPath(new URL('..', import.meta.url));
const PROGRAM = new URL('../../program/', import.meta.url);

// The names of shared files change with what they hold: without this the old ones stay.
removeFolder(PROGRAM);

await build({
  absWorkingDir: BUILT,
  entryPoints: ['cli/main.js', 'edge/progress-line.js', 'engine.js', 'index.js', 'types.js', ...doors()],
  outbase: '.',
  outdir: fileURLToPath(PROGRAM),
  bundle: true,
  // What two doors need is loaded once: a convention rule and the program share their modules.
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  packages: 'external',
  logLevel: 'warning',
});

function doors(): readonly string[] {
  return namesIn(new URL('../doors/', import.meta.url))
    .filter((file) => file.endsWith('.js'))
    .map((file) => `doors/${file}`);
}
