/** Where the page begins. */

import { render } from "preact";

import { App } from "./App";
import { Bridge } from "./engine/bridge";
import { unpack } from "./engine/unpack";
import { Keeper } from "./state/keep";
import { Newer } from "./state/newer";
import { Store } from "./state/store";

const bridge = new Bridge(unpack());
bridge.warm();
const store = new Store(bridge);
const keeper = new Keeper();
keeper.follow(store);
const page = document.getElementById("page");
if (page) render(<App store={store} keeper={keeper} newer={new Newer()} />, page);
