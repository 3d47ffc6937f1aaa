import './trust.ts';
import { painted, sayMissing } from './arrival/index.ts';

/** The code is fetched together with this; it runs once there is something to see. */
void painted()
  .then(() => import('./main.ts'))
  .catch((reason: unknown) => {
    sayMissing();
    throw reason;
  });
