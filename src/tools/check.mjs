// `npm run check`: everything that can be said about the sources without running them.
import './node.mjs';
import { checkNames, runChecks } from './checks.mjs';
import { installMissing } from './install.mjs';

await installMissing();
const { passed, failed } = await runChecks(checkNames());
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
