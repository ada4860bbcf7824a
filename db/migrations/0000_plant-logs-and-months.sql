CREATE TABLE "analyses" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"engine_version" integer NOT NULL,
	"analysis" jsonb NOT NULL,
	"computed_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "analyses_machine_id_log_id_pk" PRIMARY KEY("machine_id","log_id")
);
--> statement-breakpoint
CREATE TABLE "envelope_chunks" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"channel" text NOT NULL,
	"level" integer NOT NULL,
	"seq" integer NOT NULL,
	"bytes" "bytea" NOT NULL,
	CONSTRAINT "envelope_chunks_machine_id_log_id_channel_level_seq_pk" PRIMARY KEY("machine_id","log_id","channel","level","seq")
);
--> statement-breakpoint
CREATE TABLE "log_files" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"seq" integer NOT NULL,
	"packing" text NOT NULL,
	"bytes" "bytea" NOT NULL,
	CONSTRAINT "log_files_machine_id_log_id_seq_pk" PRIMARY KEY("machine_id","log_id","seq")
);
--> statement-breakpoint
CREATE TABLE "logs" (
	"machine_id" text NOT NULL,
	"id" text NOT NULL,
	"site_id" text NOT NULL,
	"sha256" text NOT NULL,
	"file_name" text NOT NULL,
	"byte_length" bigint NOT NULL,
	"state" text NOT NULL,
	"progress" real DEFAULT 0 NOT NULL,
	"error" jsonb,
	"started_at" timestamp with time zone,
	"ended_at" timestamp with time zone,
	"duration_s" double precision,
	"sample_interval_s" double precision,
	"sample_count" integer,
	"rows_read" integer,
	"rows_used" integer,
	"rows_rejected" integer,
	"channels" jsonb,
	"report" jsonb,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "logs_machine_id_id_pk" PRIMARY KEY("machine_id","id"),
	CONSTRAINT "logs_same_file" UNIQUE("machine_id","sha256")
);
--> statement-breakpoint
CREATE TABLE "machines" (
	"id" text PRIMARY KEY NOT NULL,
	"site_id" text NOT NULL,
	"name" text NOT NULL,
	"line" text,
	"trade" text,
	"config" jsonb NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "month_totals" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"month" text NOT NULL,
	"phase_kind" text NOT NULL,
	"seconds" double precision NOT NULL,
	"electric_j" double precision NOT NULL,
	"motor_loss_j" double precision NOT NULL,
	"pump_loss_j" double precision NOT NULL,
	"over_relief_j" double precision NOT NULL,
	"unloading_j" double precision NOT NULL,
	"into_system_j" double precision NOT NULL,
	"metering_j" double precision,
	"work_j" double precision,
	"unaccounted_j" double precision NOT NULL,
	"cost" double precision NOT NULL,
	CONSTRAINT "month_totals_machine_id_log_id_month_phase_kind_pk" PRIMARY KEY("machine_id","log_id","month","phase_kind")
);
--> statement-breakpoint
CREATE TABLE "sample_chunks" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"channel" text NOT NULL,
	"seq" integer NOT NULL,
	"first_sample" integer NOT NULL,
	"sample_count" integer NOT NULL,
	"start_s" double precision NOT NULL,
	"bytes" "bytea" NOT NULL,
	CONSTRAINT "sample_chunks_machine_id_log_id_channel_seq_pk" PRIMARY KEY("machine_id","log_id","channel","seq")
);
--> statement-breakpoint
CREATE TABLE "sites" (
	"id" text PRIMARY KEY NOT NULL,
	"settings" jsonb NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
ALTER TABLE "analyses" ADD CONSTRAINT "analyses_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "envelope_chunks" ADD CONSTRAINT "envelope_chunks_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "log_files" ADD CONSTRAINT "log_files_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "logs" ADD CONSTRAINT "logs_machine_id_machines_id_fk" FOREIGN KEY ("machine_id") REFERENCES "public"."machines"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "machines" ADD CONSTRAINT "machines_site_id_sites_id_fk" FOREIGN KEY ("site_id") REFERENCES "public"."sites"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "month_totals" ADD CONSTRAINT "month_totals_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "sample_chunks" ADD CONSTRAINT "sample_chunks_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "logs_by_id" ON "logs" USING btree ("id");--> statement-breakpoint
CREATE INDEX "logs_by_start" ON "logs" USING btree ("machine_id","started_at");--> statement-breakpoint
CREATE INDEX "machines_by_site" ON "machines" USING btree ("site_id");--> statement-breakpoint
CREATE INDEX "month_totals_by_month" ON "month_totals" USING btree ("site_id","month");