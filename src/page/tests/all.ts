/** Every test of the page in a real browser. */

import { after } from "node:test";

import "./access";
import "./alone";
import "./finish";
import "./firefox";
import "./hostile";
import "./keys";
import "./long";
import "./photos";
import "./machine";
import "./story";
import "./webkit";
import { end } from "./browser";

after(end);
