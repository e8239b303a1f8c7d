/** The desk at home: what the command line and the engine are made of. */
export { run } from './command/program.ts';
export { buildEngine } from './engine/engine.ts';
export { measureFolder } from './measure/measure-folder.ts';
