/** rigproof as a library: the engine, and files to feed it. README.md shows it in use. */
export * from './engine.js';
export { readInputs, type InputOptions } from './edge/inputs.js';
