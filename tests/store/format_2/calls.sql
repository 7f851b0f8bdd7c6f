PRAGMA user_version = 2;
BEGIN TRANSACTION;
CREATE TABLE call (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    started TEXT NOT NULL,
    changed TEXT NOT NULL,
    title TEXT NOT NULL DEFAULT '',
    status TEXT NOT NULL DEFAULT 'open',
    ending TEXT NOT NULL DEFAULT ''
, name TEXT NOT NULL DEFAULT '', edition TEXT NOT NULL DEFAULT '') STRICT;
INSERT INTO "call" VALUES(1,'2026-11-30T23:05:58.689+00:00','2026-11-30T23:05:59.314+00:00','kept from before','ended','Too little refrigerant, proven','The mill in the valley','old_call 1, old_part 1');
INSERT INTO "call" VALUES(2,'2026-11-30T23:05:59.330+00:00','2026-11-30T23:05:59.370+00:00','kept from before','ended','undecided','','old_call 1, old_part 1');
INSERT INTO "call" VALUES(3,'2026-11-30T23:05:59.378+00:00','2026-11-30T23:05:59.487+00:00','kept from before','open','','','old_call 1, old_part 1');
INSERT INTO "call" VALUES(4,'2026-11-30T23:05:59.494+00:00','2026-11-30T23:05:59.560+00:00','kept from before','open','','','old_call 1, old_part 1');
INSERT INTO "call" VALUES(5,'2026-11-30T23:05:59.562+00:00','2026-11-30T23:05:59.722+00:00','kept from before','ended','undecided','','old_call 1, old_part 1');
INSERT INTO "call" VALUES(6,'2026-11-30T23:05:59.730+00:00','2026-11-30T23:05:59.794+00:00','kept from before','open','','','old_call 1, old_part 1');
INSERT INTO "call" VALUES(7,'2026-11-30T23:05:59.796+00:00','2026-11-30T23:05:59.838+00:00','kept from before','open','','','old_call 1, old_part 1');
INSERT INTO "call" VALUES(8,'2026-11-30T23:05:59.839+00:00','2026-11-30T23:05:59.858+00:00','does not heat enough','open','','','poor_heating 2, reversing_valve 1, defrost 1, heating_charge 1, indoor_airflow 1, wrong_way_flow 1');
CREATE TABLE line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    call INTEGER NOT NULL REFERENCES call (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    deed TEXT NOT NULL CHECK (deed IN ('set', 'drop')),
    name TEXT NOT NULL,
    nth INTEGER NOT NULL,
    text TEXT NOT NULL
) STRICT;
INSERT INTO "line" VALUES(1,1,'2026-11-30T23:05:58.689+00:00','set','complaint',1,'kept from before');
INSERT INTO "line" VALUES(2,1,'2026-11-30T23:05:58.892+00:00','set','tree',1,'old_call');
INSERT INTO "line" VALUES(3,1,'2026-11-30T23:05:58.894+00:00','set','caution moving_parts @ settle',1,'understood');
INSERT INTO "line" VALUES(4,1,'2026-11-30T23:05:58.898+00:00','set','caution live_panels @ settle',1,'understood');
INSERT INTO "line" VALUES(5,1,'2026-11-30T23:05:58.899+00:00','set','minutes_running',1,'20 min');
INSERT INTO "line" VALUES(6,1,'2026-11-30T23:05:58.900+00:00','set','filter_condition',1,'clean');
INSERT INTO "line" VALUES(7,1,'2026-11-30T23:05:59.203+00:00','set','refrigerant',1,'R-22');
INSERT INTO "line" VALUES(8,1,'2026-11-30T23:05:59.204+00:00','set','caution hoses_and_liquid @ starved',1,'understood');
INSERT INTO "line" VALUES(9,1,'2026-11-30T23:05:59.206+00:00','set','altitude',1,'900 ft');
INSERT INTO "line" VALUES(10,1,'2026-11-30T23:05:59.210+00:00','set','suction_pressure',1,'60 psig');
INSERT INTO "line" VALUES(11,1,'2026-11-30T23:05:59.215+00:00','set','suction_line_temperature',1,'70 F');
INSERT INTO "line" VALUES(12,1,'2026-11-30T23:05:59.219+00:00','set','caution floodback @ warm_hand',1,'understood');
INSERT INTO "line" VALUES(13,1,'2026-11-30T23:05:59.230+00:00','set','do warm_hand',1,'done');
INSERT INTO "line" VALUES(14,1,'2026-11-30T23:05:59.234+00:00','set','suction_pressure',2,'61 psig');
INSERT INTO "line" VALUES(15,1,'2026-11-30T23:05:59.239+00:00','set','caution hoses_and_liquid @ charge/judge',1,'understood');
INSERT INTO "line" VALUES(16,1,'2026-11-30T23:05:59.242+00:00','set','liquid_pressure',1,'226 psig');
INSERT INTO "line" VALUES(17,1,'2026-11-30T23:05:59.247+00:00','set','filter_condition',1,'dirty');
INSERT INTO "line" VALUES(18,1,'2026-11-30T23:05:59.262+00:00','set','liquid_line_temperature',1,'109 F');
INSERT INTO "line" VALUES(19,1,'2026-11-30T23:05:59.264+00:00','set','caution hoses_and_liquid @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(20,1,'2026-11-30T23:05:59.270+00:00','set','caution refrigerant_release @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(21,1,'2026-11-30T23:05:59.270+00:00','set','caution opening_circuit @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(22,1,'2026-11-30T23:05:59.274+00:00','set','caution brazing @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(23,1,'2026-11-30T23:05:59.278+00:00','set','caution pressure_test @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(24,1,'2026-11-30T23:05:59.282+00:00','set','caution confined_space @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(25,1,'2026-11-30T23:05:59.286+00:00','set','check charge/leak',1,'measure again');
INSERT INTO "line" VALUES(26,1,'2026-11-30T23:05:59.294+00:00','set','caution hoses_and_liquid @ charge/leak',2,'understood');
INSERT INTO "line" VALUES(27,1,'2026-11-30T23:05:59.295+00:00','set','settle charge/leak',1,'done');
INSERT INTO "line" VALUES(28,1,'2026-11-30T23:05:59.295+00:00','set','suction_pressure',3,'69 psig');
INSERT INTO "line" VALUES(29,1,'2026-11-30T23:05:59.302+00:00','set','liquid_pressure',2,'240 psig');
INSERT INTO "line" VALUES(30,1,'2026-11-30T23:05:59.304+00:00','set','suction_line_temperature',2,'50 F');
INSERT INTO "line" VALUES(31,1,'2026-11-30T23:05:59.309+00:00','set','liquid_line_temperature',2,'100 F');
INSERT INTO "line" VALUES(32,1,'2026-11-30T23:05:59.314+00:00','set','check charge/leak',2,'yes');
INSERT INTO "line" VALUES(33,2,'2026-11-30T23:05:59.330+00:00','set','complaint',1,'kept from before');
INSERT INTO "line" VALUES(34,2,'2026-11-30T23:05:59.338+00:00','set','tree',1,'old_call');
INSERT INTO "line" VALUES(35,2,'2026-11-30T23:05:59.346+00:00','set','caution moving_parts @ settle',1,'understood');
INSERT INTO "line" VALUES(36,2,'2026-11-30T23:05:59.350+00:00','set','caution live_panels @ settle',1,'understood');
INSERT INTO "line" VALUES(37,2,'2026-11-30T23:05:59.354+00:00','set','minutes_running',1,'5 min');
INSERT INTO "line" VALUES(38,2,'2026-11-30T23:05:59.358+00:00','set','filter_condition',1,'cannot tell');
INSERT INTO "line" VALUES(39,2,'2026-11-30T23:05:59.359+00:00','set','caution moving_parts @ settle',2,'understood');
INSERT INTO "line" VALUES(40,2,'2026-11-30T23:05:59.362+00:00','set','caution live_panels @ settle',2,'understood');
INSERT INTO "line" VALUES(41,2,'2026-11-30T23:05:59.366+00:00','set','minutes_running',2,'cannot tell');
INSERT INTO "line" VALUES(42,2,'2026-11-30T23:05:59.370+00:00','set','filter_condition',2,'clean');
INSERT INTO "line" VALUES(43,3,'2026-11-30T23:05:59.378+00:00','set','complaint',1,'kept from before');
INSERT INTO "line" VALUES(44,3,'2026-11-30T23:05:59.386+00:00','set','tree',1,'old_call');
INSERT INTO "line" VALUES(45,3,'2026-11-30T23:05:59.394+00:00','set','caution moving_parts @ settle',1,'understood');
INSERT INTO "line" VALUES(46,3,'2026-11-30T23:05:59.398+00:00','set','caution live_panels @ settle',1,'understood');
INSERT INTO "line" VALUES(47,3,'2026-11-30T23:05:59.402+00:00','set','minutes_running',1,'20 min');
INSERT INTO "line" VALUES(48,3,'2026-11-30T23:05:59.405+00:00','set','filter_condition',1,'clean');
INSERT INTO "line" VALUES(49,3,'2026-11-30T23:05:59.410+00:00','set','pressure_accuracy',1,'1 psi');
INSERT INTO "line" VALUES(50,3,'2026-11-30T23:05:59.417+00:00','set','temperature_accuracy',1,'0.9 F');
INSERT INTO "line" VALUES(51,3,'2026-11-30T23:05:59.429+00:00','set','refrigerant',1,'R-22');
INSERT INTO "line" VALUES(52,3,'2026-11-30T23:05:59.434+00:00','set','caution hoses_and_liquid @ starved',1,'understood');
INSERT INTO "line" VALUES(53,3,'2026-11-30T23:05:59.438+00:00','set','altitude',1,'900 ft');
INSERT INTO "line" VALUES(54,3,'2026-11-30T23:05:59.442+00:00','set','suction_pressure',1,'60 psig');
INSERT INTO "line" VALUES(55,3,'2026-11-30T23:05:59.447+00:00','set','suction_line_temperature',1,'70 F');
INSERT INTO "line" VALUES(56,3,'2026-11-30T23:05:59.451+00:00','set','caution floodback @ warm_hand',1,'understood');
INSERT INTO "line" VALUES(57,3,'2026-11-30T23:05:59.454+00:00','set','do warm_hand',1,'cannot do');
INSERT INTO "line" VALUES(58,3,'2026-11-30T23:05:59.458+00:00','set','caution hoses_and_liquid @ charge/judge',1,'understood');
INSERT INTO "line" VALUES(59,3,'2026-11-30T23:05:59.459+00:00','set','liquid_pressure',1,'226 psig');
INSERT INTO "line" VALUES(60,3,'2026-11-30T23:05:59.463+00:00','set','liquid_line_temperature',1,'109 F');
INSERT INTO "line" VALUES(61,3,'2026-11-30T23:05:59.472+00:00','set','caution hoses_and_liquid @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(62,3,'2026-11-30T23:05:59.474+00:00','set','caution refrigerant_release @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(63,3,'2026-11-30T23:05:59.478+00:00','set','caution opening_circuit @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(64,3,'2026-11-30T23:05:59.482+00:00','set','caution brazing @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(65,3,'2026-11-30T23:05:59.486+00:00','set','caution pressure_test @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(66,3,'2026-11-30T23:05:59.487+00:00','set','caution confined_space @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(67,4,'2026-11-30T23:05:59.494+00:00','set','pressure_accuracy',1,'1 psi');
INSERT INTO "line" VALUES(68,4,'2026-11-30T23:05:59.494+00:00','set','temperature_accuracy',1,'0.9 F');
INSERT INTO "line" VALUES(69,4,'2026-11-30T23:05:59.494+00:00','set','complaint',1,'kept from before');
INSERT INTO "line" VALUES(70,4,'2026-11-30T23:05:59.502+00:00','set','tree',1,'old_call');
INSERT INTO "line" VALUES(71,4,'2026-11-30T23:05:59.510+00:00','set','caution moving_parts @ settle',1,'understood');
INSERT INTO "line" VALUES(72,4,'2026-11-30T23:05:59.514+00:00','set','caution live_panels @ settle',1,'understood');
INSERT INTO "line" VALUES(73,4,'2026-11-30T23:05:59.518+00:00','set','minutes_running',1,'20 min');
INSERT INTO "line" VALUES(74,4,'2026-11-30T23:05:59.522+00:00','set','filter_condition',1,'clean');
INSERT INTO "line" VALUES(75,4,'2026-11-30T23:05:59.526+00:00','set','refrigerant',1,'R-22');
INSERT INTO "line" VALUES(76,4,'2026-11-30T23:05:59.530+00:00','set','caution hoses_and_liquid @ starved',1,'understood');
INSERT INTO "line" VALUES(77,4,'2026-11-30T23:05:59.534+00:00','set','altitude',1,'900 ft');
INSERT INTO "line" VALUES(78,4,'2026-11-30T23:05:59.542+00:00','set','suction_pressure',1,'60 psig');
INSERT INTO "line" VALUES(79,4,'2026-11-30T23:05:59.547+00:00','set','suction_line_temperature',1,'59.5 F');
INSERT INTO "line" VALUES(80,4,'2026-11-30T23:05:59.551+00:00','set','close starved',1,'again suction_line_temperature');
INSERT INTO "line" VALUES(81,4,'2026-11-30T23:05:59.554+00:00','set','suction_line_temperature',2,'59.4 F');
INSERT INTO "line" VALUES(82,4,'2026-11-30T23:05:59.559+00:00','set','close starved',2,'go on');
INSERT INTO "line" VALUES(83,4,'2026-11-30T23:05:59.560+00:00','set','caution floodback @ warm_hand',1,'understood');
INSERT INTO "line" VALUES(84,5,'2026-11-30T23:05:59.562+00:00','set','pressure_accuracy',1,'1 psi');
INSERT INTO "line" VALUES(85,5,'2026-11-30T23:05:59.562+00:00','set','temperature_accuracy',1,'0.9 F');
INSERT INTO "line" VALUES(86,5,'2026-11-30T23:05:59.562+00:00','set','complaint',1,'kept from before');
INSERT INTO "line" VALUES(87,5,'2026-11-30T23:05:59.574+00:00','set','tree',1,'old_call');
INSERT INTO "line" VALUES(88,5,'2026-11-30T23:05:59.582+00:00','set','caution moving_parts @ settle',1,'understood');
INSERT INTO "line" VALUES(89,5,'2026-11-30T23:05:59.586+00:00','set','caution live_panels @ settle',1,'understood');
INSERT INTO "line" VALUES(90,5,'2026-11-30T23:05:59.590+00:00','set','minutes_running',1,'20 min');
INSERT INTO "line" VALUES(91,5,'2026-11-30T23:05:59.594+00:00','set','filter_condition',1,'clean');
INSERT INTO "line" VALUES(92,5,'2026-11-30T23:05:59.598+00:00','set','refrigerant',1,'R-22');
INSERT INTO "line" VALUES(93,5,'2026-11-30T23:05:59.602+00:00','set','caution hoses_and_liquid @ starved',1,'understood');
INSERT INTO "line" VALUES(94,5,'2026-11-30T23:05:59.605+00:00','set','altitude',1,'900 ft');
INSERT INTO "line" VALUES(95,5,'2026-11-30T23:05:59.610+00:00','set','suction_pressure',1,'60 psig');
INSERT INTO "line" VALUES(96,5,'2026-11-30T23:05:59.615+00:00','set','suction_line_temperature',1,'59.5 F');
INSERT INTO "line" VALUES(97,5,'2026-11-30T23:05:59.619+00:00','set','close starved',1,'again suction_line_temperature');
INSERT INTO "line" VALUES(98,5,'2026-11-30T23:05:59.622+00:00','set','suction_line_temperature',2,'59.4 F');
INSERT INTO "line" VALUES(99,5,'2026-11-30T23:05:59.627+00:00','drop','suction_line_temperature',2,'59.4 F');
INSERT INTO "line" VALUES(100,5,'2026-11-30T23:05:59.638+00:00','set','suction_line_temperature',2,'59.3 F');
INSERT INTO "line" VALUES(101,5,'2026-11-30T23:05:59.641+00:00','set','close starved',2,'go on');
INSERT INTO "line" VALUES(102,5,'2026-11-30T23:05:59.647+00:00','set','caution floodback @ warm_hand',1,'understood');
INSERT INTO "line" VALUES(103,5,'2026-11-30T23:05:59.648+00:00','set','do warm_hand',1,'done');
INSERT INTO "line" VALUES(104,5,'2026-11-30T23:05:59.648+00:00','set','suction_pressure',2,'61 psig');
INSERT INTO "line" VALUES(105,5,'2026-11-30T23:05:59.654+00:00','set','caution hoses_and_liquid @ charge/judge',1,'understood');
INSERT INTO "line" VALUES(106,5,'2026-11-30T23:05:59.658+00:00','set','liquid_pressure',1,'226 psig');
INSERT INTO "line" VALUES(107,5,'2026-11-30T23:05:59.663+00:00','set','liquid_line_temperature',1,'104 F');
INSERT INTO "line" VALUES(108,5,'2026-11-30T23:05:59.667+00:00','set','close charge/judge',1,'go on');
INSERT INTO "line" VALUES(109,5,'2026-11-30T23:05:59.670+00:00','set','do charge/again',1,'done');
INSERT INTO "line" VALUES(110,5,'2026-11-30T23:05:59.671+00:00','set','caution hoses_and_liquid @ charge/narrow',1,'understood');
INSERT INTO "line" VALUES(111,5,'2026-11-30T23:05:59.674+00:00','set','caution refrigerant_release @ charge/narrow',1,'understood');
INSERT INTO "line" VALUES(112,5,'2026-11-30T23:05:59.678+00:00','set','caution opening_circuit @ charge/narrow',1,'understood');
INSERT INTO "line" VALUES(113,5,'2026-11-30T23:05:59.682+00:00','set','caution brazing @ charge/narrow',1,'understood');
INSERT INTO "line" VALUES(114,5,'2026-11-30T23:05:59.686+00:00','set','caution pressure_test @ charge/narrow',1,'understood');
INSERT INTO "line" VALUES(115,5,'2026-11-30T23:05:59.690+00:00','set','check charge/narrow',1,'no');
INSERT INTO "line" VALUES(116,5,'2026-11-30T23:05:59.694+00:00','set','check nothing',1,'no');
INSERT INTO "line" VALUES(117,5,'2026-11-30T23:05:59.699+00:00','set','caution hoses_and_liquid @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(118,5,'2026-11-30T23:05:59.702+00:00','set','caution refrigerant_release @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(119,5,'2026-11-30T23:05:59.705+00:00','set','caution opening_circuit @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(120,5,'2026-11-30T23:05:59.710+00:00','set','caution brazing @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(121,5,'2026-11-30T23:05:59.714+00:00','set','caution pressure_test @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(122,5,'2026-11-30T23:05:59.718+00:00','set','caution confined_space @ charge/leak',1,'understood');
INSERT INTO "line" VALUES(123,5,'2026-11-30T23:05:59.722+00:00','set','check charge/leak',1,'no');
INSERT INTO "line" VALUES(124,6,'2026-11-30T23:05:59.730+00:00','set','pressure_accuracy',1,'1 psi');
INSERT INTO "line" VALUES(125,6,'2026-11-30T23:05:59.730+00:00','set','temperature_accuracy',1,'0.9 F');
INSERT INTO "line" VALUES(126,6,'2026-11-30T23:05:59.730+00:00','set','complaint',1,'kept from before');
INSERT INTO "line" VALUES(127,6,'2026-11-30T23:05:59.738+00:00','set','tree',1,'old_call');
INSERT INTO "line" VALUES(128,6,'2026-11-30T23:05:59.746+00:00','set','caution moving_parts @ settle',1,'understood');
INSERT INTO "line" VALUES(129,6,'2026-11-30T23:05:59.750+00:00','set','caution live_panels @ settle',1,'understood');
INSERT INTO "line" VALUES(130,6,'2026-11-30T23:05:59.754+00:00','set','minutes_running',1,'20 min');
INSERT INTO "line" VALUES(131,6,'2026-11-30T23:05:59.755+00:00','set','filter_condition',1,'clean');
INSERT INTO "line" VALUES(132,6,'2026-11-30T23:05:59.758+00:00','set','refrigerant',1,'R-22');
INSERT INTO "line" VALUES(133,6,'2026-11-30T23:05:59.762+00:00','set','caution hoses_and_liquid @ starved',1,'understood');
INSERT INTO "line" VALUES(134,6,'2026-11-30T23:05:59.766+00:00','set','altitude',1,'900 ft');
INSERT INTO "line" VALUES(135,6,'2026-11-30T23:05:59.770+00:00','set','suction_pressure',1,'60 psig');
INSERT INTO "line" VALUES(136,6,'2026-11-30T23:05:59.774+00:00','drop','suction_pressure',1,'60 psig');
INSERT INTO "line" VALUES(137,6,'2026-11-30T23:05:59.780+00:00','drop','altitude',1,'900 ft');
INSERT INTO "line" VALUES(138,6,'2026-11-30T23:05:59.788+00:00','set','altitude',1,'1500 ft');
INSERT INTO "line" VALUES(139,6,'2026-11-30T23:05:59.794+00:00','set','suction_pressure',1,'61 psig');
INSERT INTO "line" VALUES(140,7,'2026-11-30T23:05:59.796+00:00','set','pressure_accuracy',1,'1 psi');
INSERT INTO "line" VALUES(141,7,'2026-11-30T23:05:59.796+00:00','set','temperature_accuracy',1,'0.9 F');
INSERT INTO "line" VALUES(142,7,'2026-11-30T23:05:59.796+00:00','set','complaint',1,'kept from before');
INSERT INTO "line" VALUES(143,7,'2026-11-30T23:05:59.806+00:00','set','altitude',1,'5280 ft');
INSERT INTO "line" VALUES(144,7,'2026-11-30T23:05:59.810+00:00','drop','pressure_accuracy',1,'usual');
INSERT INTO "line" VALUES(145,7,'2026-11-30T23:05:59.821+00:00','set','tree',1,'old_call');
INSERT INTO "line" VALUES(146,7,'2026-11-30T23:05:59.831+00:00','set','caution moving_parts @ settle',1,'understood');
INSERT INTO "line" VALUES(147,7,'2026-11-30T23:05:59.838+00:00','set','caution live_panels @ settle',1,'understood');
INSERT INTO "line" VALUES(148,8,'2026-11-30T23:05:59.839+00:00','set','temperature_accuracy',1,'0.9 F');
INSERT INTO "line" VALUES(149,8,'2026-11-30T23:05:59.839+00:00','set','complaint',1,'does not heat enough');
INSERT INTO "line" VALUES(150,8,'2026-11-30T23:05:59.850+00:00','set','tree',1,'poor_heating');
INSERT INTO "line" VALUES(151,8,'2026-11-30T23:05:59.854+00:00','set','caution roof_and_ladder @ look',1,'understood');
INSERT INTO "line" VALUES(152,8,'2026-11-30T23:05:59.858+00:00','set','caution hot_surfaces @ look',1,'understood');
CREATE TABLE note (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    call INTEGER NOT NULL REFERENCES call (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    text TEXT NOT NULL
) STRICT;
INSERT INTO "note" VALUES(1,1,'2026-11-30T23:05:59.226+00:00','photo IMG_0231.jpg shows the bulb');
INSERT INTO "note" VALUES(2,1,'2026-11-30T23:05:59.326+00:00','Customer told of the leak');
CREATE INDEX line_by_call ON line (call, id);
CREATE INDEX call_by_change ON call (changed);
CREATE INDEX note_by_call ON note (call, id);
CREATE INDEX line_by_name ON line (name, id);
CREATE INDEX call_by_status ON call (status, changed);
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('call',8);
INSERT INTO "sqlite_sequence" VALUES('line',152);
INSERT INTO "sqlite_sequence" VALUES('note',2);
COMMIT;
