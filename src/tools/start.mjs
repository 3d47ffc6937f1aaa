// `npm start`: installs what is missing, builds the app and serves it to this computer.
import './node.mjs';
import { installMissing } from './install.mjs';
import { ROOT } from './run.mjs';
import { build, serve } from './site.mjs';

await installMissing();
console.log('Building …');
try {
  await build(`${ROOT}dist`);
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exit(1);
}
const { address } = await serve(`${ROOT}dist`, Number(process.env['PORT']) || undefined);
console.log(`Vampwright plays at ${address}  (Ctrl+C ends it)`);
