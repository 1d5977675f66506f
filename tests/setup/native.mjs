// Lets Node import the sources of a test by itself. A module runner in its place stands between hot
// loops and the functions they call, and the suite takes twice as long.
import * as module from 'node:module';
import { fileURLToPath } from 'node:url';
import { register } from 'tsx/esm/api';

register({ tsconfig: fileURLToPath(new URL('tsconfig.json', import.meta.url)) });
module.register('./styleless.mjs', import.meta.url);
