// The page of `steelyard field`: routes, the top line, the access code.

import {byId} from './dom.js';
byId('main').textContent = 'Steelyard';
