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
INSERT INTO "call" VALUES(1,'2026-11-30T23:06:01.872+00:00','2026-11-30T23:06:01.997+00:00','It runs all day and never gets down to what we set.','ended','Clogged air filter','','poor_cooling 2, outdoor_coil 1, starved_coil 1, indoor_airflow 1, valve_bench 1, electronic_valve 1, charge_by_subcooling 1, charge_by_superheat 1, compressor_pumping 1');
INSERT INTO "call" VALUES(2,'2026-11-30T23:06:02.033+00:00','2026-11-30T23:06:02.186+00:00','It runs all day and never gets down to what we set.','open','','','poor_cooling 2, outdoor_coil 1, starved_coil 1, indoor_airflow 1, valve_bench 1, electronic_valve 1, charge_by_subcooling 1, charge_by_superheat 1, compressor_pumping 1');
CREATE TABLE line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    call INTEGER NOT NULL REFERENCES call (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    deed TEXT NOT NULL CHECK (deed IN ('set', 'drop')),
    name TEXT NOT NULL,
    nth INTEGER NOT NULL,
    text TEXT NOT NULL
) STRICT;
INSERT INTO "line" VALUES(1,1,'2026-11-30T23:06:01.872+00:00','set','practice call',1,'{"seed": 7, "difficulty": 0, "complaint": "It runs all day and never gets down to what we set.", "tree": "poor_cooling", "glass": false, "heat_pump": false, "running_since": -90.0, "kit": {"seed": 7, "gauges": null, "thermometers": null}, "system": {"refrigerant": "R-410A", "tons": 3.0, "device": "txv", "outdoor": 308.15000000000003, "return_dry_bulb": 298.70555555555563, "return_wet_bulb": 291.4833333333334, "altitude": 0.0, "charge": 1.0, "mode": "cooling", "heat_pump": false, "rise": 0.0}, "hidden": [{"cause": "dirty_filter", "fault": "low_airflow", "severity": 0.3, "place": "filter", "look": ""}], "minutes": 60.0, "list": "", "title": "", "trainee": "", "alone": false}');
INSERT INTO "line" VALUES(2,1,'2026-11-30T23:06:01.872+00:00','set','complaint',1,'It runs all day and never gets down to what we set.');
INSERT INTO "line" VALUES(3,1,'2026-11-30T23:06:01.872+00:00','set','refrigerant',1,'R-410A');
INSERT INTO "line" VALUES(4,1,'2026-11-30T23:06:01.872+00:00','set','metering_device',1,'txv');
INSERT INTO "line" VALUES(5,1,'2026-11-30T23:06:01.872+00:00','set','mode',1,'cooling');
INSERT INTO "line" VALUES(6,1,'2026-11-30T23:06:01.872+00:00','set','compressor_type',1,'scroll');
INSERT INTO "line" VALUES(7,1,'2026-11-30T23:06:01.872+00:00','set','power_supply',1,'single_phase');
INSERT INTO "line" VALUES(8,1,'2026-11-30T23:06:01.872+00:00','set','unit_efficiency',1,'thirteen_to_fifteen');
INSERT INTO "line" VALUES(9,1,'2026-11-30T23:06:01.872+00:00','set','altitude',1,'0 ft');
INSERT INTO "line" VALUES(10,1,'2026-11-30T23:06:01.872+00:00','set','rated_static',1,'0.5 in wc');
INSERT INTO "line" VALUES(11,1,'2026-11-30T23:06:01.872+00:00','set','least_airflow',1,'1050 cfm');
INSERT INTO "line" VALUES(12,1,'2026-11-30T23:06:01.872+00:00','set','equalizer',1,'external');
INSERT INTO "line" VALUES(13,1,'2026-11-30T23:06:01.872+00:00','set','subcooling_target',1,'10 F');
INSERT INTO "line" VALUES(14,1,'2026-11-30T23:06:01.872+00:00','set','tree',1,'poor_cooling');
INSERT INTO "line" VALUES(15,1,'2026-11-30T23:06:01.872+00:00','set','practice event',1,'{"event": {"look": "filter_condition"}, "asked": false, "met": ["live_panels", "moving_parts"]}');
INSERT INTO "line" VALUES(16,1,'2026-11-30T23:06:01.879+00:00','set','practice event',2,'{"event": {"act": "change_filter", "acknowledged": ["live_panels", "moving_parts"]}, "asked": false}');
INSERT INTO "line" VALUES(17,1,'2026-11-30T23:06:01.882+00:00','set','caution live_panels @ filter',1,'understood');
INSERT INTO "line" VALUES(18,1,'2026-11-30T23:06:01.894+00:00','set','caution moving_parts @ filter',1,'understood');
INSERT INTO "line" VALUES(19,1,'2026-11-30T23:06:01.898+00:00','set','practice event',3,'{"event": {"look": "filter_condition"}, "asked": true}');
INSERT INTO "line" VALUES(20,1,'2026-11-30T23:06:01.902+00:00','set','filter_condition',1,'clean');
INSERT INTO "line" VALUES(21,1,'2026-11-30T23:06:01.906+00:00','set','practice event',4,'{"event": {"look": "air_at_vents"}, "asked": true}');
INSERT INTO "line" VALUES(22,1,'2026-11-30T23:06:01.910+00:00','set','air_at_vents',1,'normal');
INSERT INTO "line" VALUES(23,1,'2026-11-30T23:06:01.914+00:00','set','caution roof_and_ladder @ outdoor',1,'understood');
INSERT INTO "line" VALUES(24,1,'2026-11-30T23:06:01.918+00:00','set','practice event',5,'{"event": {"look": "outdoor_unit"}, "asked": true}');
INSERT INTO "line" VALUES(25,1,'2026-11-30T23:06:01.922+00:00','set','outdoor_unit',1,'all_well');
INSERT INTO "line" VALUES(26,1,'2026-11-30T23:06:01.927+00:00','set','practice event',6,'{"event": {"take": "minutes_running"}, "asked": true}');
INSERT INTO "line" VALUES(27,1,'2026-11-30T23:06:01.930+00:00','set','minutes_running',1,'7 min');
INSERT INTO "line" VALUES(28,1,'2026-11-30T23:06:01.935+00:00','set','practice event',7,'{"event": {"wait": "", "amount": 8.0}, "asked": true}');
INSERT INTO "line" VALUES(29,1,'2026-11-30T23:06:01.938+00:00','set','practice event',8,'{"event": {"take": "minutes_running"}, "asked": true}');
INSERT INTO "line" VALUES(30,1,'2026-11-30T23:06:01.942+00:00','set','minutes_running',2,'15 min');
INSERT INTO "line" VALUES(31,1,'2026-11-30T23:06:01.947+00:00','set','practice event',9,'{"event": {"take": "outdoor_air_temperature"}, "asked": true}');
INSERT INTO "line" VALUES(32,1,'2026-11-30T23:06:01.950+00:00','set','outdoor_air_temperature',1,'95.4 F');
INSERT INTO "line" VALUES(33,1,'2026-11-30T23:06:01.955+00:00','set','caution hoses_and_liquid @ circuit',1,'understood');
INSERT INTO "line" VALUES(34,1,'2026-11-30T23:06:01.958+00:00','set','practice event',10,'{"event": {"take": "suction_pressure"}, "asked": true}');
INSERT INTO "line" VALUES(35,1,'2026-11-30T23:06:01.962+00:00','set','suction_pressure',1,'120.2 psig');
INSERT INTO "line" VALUES(36,1,'2026-11-30T23:06:01.967+00:00','set','practice event',11,'{"event": {"take": "liquid_pressure"}, "asked": true}');
INSERT INTO "line" VALUES(37,1,'2026-11-30T23:06:01.969+00:00','set','liquid_pressure',1,'391.3 psig');
INSERT INTO "line" VALUES(38,1,'2026-11-30T23:06:01.975+00:00','drop','liquid_pressure',1,'391.3 psig');
INSERT INTO "line" VALUES(39,1,'2026-11-30T23:06:01.988+00:00','set','practice event',12,'{"event": {"take": "liquid_pressure"}, "asked": true}');
INSERT INTO "line" VALUES(40,1,'2026-11-30T23:06:01.994+00:00','set','liquid_pressure',1,'391.3 psig');
INSERT INTO "line" VALUES(41,1,'2026-11-30T23:06:01.997+00:00','set','practice end',1,'{"named": ["dirty_filter"]}');
INSERT INTO "line" VALUES(42,2,'2026-11-30T23:06:02.033+00:00','set','practice call',1,'{"seed": 7, "difficulty": 0, "complaint": "It runs all day and never gets down to what we set.", "tree": "poor_cooling", "glass": false, "heat_pump": false, "running_since": -90.0, "kit": {"seed": 7, "gauges": null, "thermometers": null}, "system": {"refrigerant": "R-410A", "tons": 3.0, "device": "txv", "outdoor": 308.15000000000003, "return_dry_bulb": 298.70555555555563, "return_wet_bulb": 291.4833333333334, "altitude": 0.0, "charge": 1.0, "mode": "cooling", "heat_pump": false, "rise": 0.0}, "hidden": [{"cause": "undercharge", "fault": "undercharge", "severity": 0.2, "place": "charge", "look": "core_or_cap"}], "minutes": null, "list": "", "title": "", "trainee": "", "alone": false}');
INSERT INTO "line" VALUES(43,2,'2026-11-30T23:06:02.033+00:00','set','complaint',1,'It runs all day and never gets down to what we set.');
INSERT INTO "line" VALUES(44,2,'2026-11-30T23:06:02.033+00:00','set','refrigerant',1,'R-410A');
INSERT INTO "line" VALUES(45,2,'2026-11-30T23:06:02.033+00:00','set','metering_device',1,'txv');
INSERT INTO "line" VALUES(46,2,'2026-11-30T23:06:02.033+00:00','set','mode',1,'cooling');
INSERT INTO "line" VALUES(47,2,'2026-11-30T23:06:02.033+00:00','set','compressor_type',1,'scroll');
INSERT INTO "line" VALUES(48,2,'2026-11-30T23:06:02.033+00:00','set','power_supply',1,'single_phase');
INSERT INTO "line" VALUES(49,2,'2026-11-30T23:06:02.033+00:00','set','unit_efficiency',1,'thirteen_to_fifteen');
INSERT INTO "line" VALUES(50,2,'2026-11-30T23:06:02.033+00:00','set','altitude',1,'0 ft');
INSERT INTO "line" VALUES(51,2,'2026-11-30T23:06:02.033+00:00','set','rated_static',1,'0.5 in wc');
INSERT INTO "line" VALUES(52,2,'2026-11-30T23:06:02.033+00:00','set','least_airflow',1,'1050 cfm');
INSERT INTO "line" VALUES(53,2,'2026-11-30T23:06:02.033+00:00','set','equalizer',1,'external');
INSERT INTO "line" VALUES(54,2,'2026-11-30T23:06:02.033+00:00','set','subcooling_target',1,'10 F');
INSERT INTO "line" VALUES(55,2,'2026-11-30T23:06:02.033+00:00','set','tree',1,'poor_cooling');
INSERT INTO "line" VALUES(56,2,'2026-11-30T23:06:02.033+00:00','set','caution live_panels @ filter',1,'understood');
INSERT INTO "line" VALUES(57,2,'2026-11-30T23:06:02.046+00:00','set','caution moving_parts @ filter',1,'understood');
INSERT INTO "line" VALUES(58,2,'2026-11-30T23:06:02.075+00:00','set','practice event',1,'{"event": {"look": "filter_condition"}, "asked": true}');
INSERT INTO "line" VALUES(59,2,'2026-11-30T23:06:02.078+00:00','set','filter_condition',1,'clean');
INSERT INTO "line" VALUES(60,2,'2026-11-30T23:06:02.079+00:00','set','practice event',2,'{"event": {"look": "air_at_vents"}, "asked": true}');
INSERT INTO "line" VALUES(61,2,'2026-11-30T23:06:02.080+00:00','set','air_at_vents',1,'normal');
INSERT INTO "line" VALUES(62,2,'2026-11-30T23:06:02.090+00:00','set','caution roof_and_ladder @ outdoor',1,'understood');
INSERT INTO "line" VALUES(63,2,'2026-11-30T23:06:02.098+00:00','set','practice event',3,'{"event": {"look": "outdoor_unit"}, "asked": true}');
INSERT INTO "line" VALUES(64,2,'2026-11-30T23:06:02.102+00:00','set','outdoor_unit',1,'all_well');
INSERT INTO "line" VALUES(65,2,'2026-11-30T23:06:02.107+00:00','set','practice event',4,'{"event": {"take": "minutes_running"}, "asked": true}');
INSERT INTO "line" VALUES(66,2,'2026-11-30T23:06:02.110+00:00','set','minutes_running',1,'96 min');
INSERT INTO "line" VALUES(67,2,'2026-11-30T23:06:02.115+00:00','set','practice event',5,'{"event": {"take": "outdoor_air_temperature"}, "asked": true}');
INSERT INTO "line" VALUES(68,2,'2026-11-30T23:06:02.154+00:00','set','outdoor_air_temperature',1,'95.6 F');
INSERT INTO "line" VALUES(69,2,'2026-11-30T23:06:02.159+00:00','set','caution hoses_and_liquid @ circuit',1,'understood');
INSERT INTO "line" VALUES(70,2,'2026-11-30T23:06:02.162+00:00','set','practice event',6,'{"event": {"take": "suction_pressure"}, "asked": true}');
INSERT INTO "line" VALUES(71,2,'2026-11-30T23:06:02.166+00:00','set','suction_pressure',1,'123.1 psig');
INSERT INTO "line" VALUES(72,2,'2026-11-30T23:06:02.171+00:00','set','liquid_pressure',1,'cannot tell');
INSERT INTO "line" VALUES(73,2,'2026-11-30T23:06:02.174+00:00','set','practice event',7,'{"event": {"wait": "", "amount": 5.0}, "asked": false}');
INSERT INTO "line" VALUES(74,2,'2026-11-30T23:06:02.178+00:00','set','practice event',8,'{"event": {"take": "liquid_pressure"}, "asked": false}');
INSERT INTO "line" VALUES(75,2,'2026-11-30T23:06:02.183+00:00','set','practice event',9,'{"event": {"take": "suction_pressure"}, "asked": true}');
INSERT INTO "line" VALUES(76,2,'2026-11-30T23:06:02.186+00:00','set','suction_pressure',1,'122.8 psig');
CREATE TABLE note (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    call INTEGER NOT NULL REFERENCES call (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    text TEXT NOT NULL
) STRICT;
CREATE INDEX line_by_call ON line (call, id);
CREATE INDEX call_by_change ON call (changed);
CREATE INDEX note_by_call ON note (call, id);
CREATE INDEX line_by_name ON line (name, id);
CREATE INDEX call_by_status ON call (status, changed);
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('call',2);
INSERT INTO "sqlite_sequence" VALUES('line',76);
COMMIT;
