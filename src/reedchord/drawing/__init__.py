"""Pictures as files: fingerings, staffs, rulers, charts, engraved bars."""
